/**
 * How many questions does it take until a verdict settles, and do answers make it a wrong one? `npm run study:questions` makes months whose
 * diary stops, by the generator of `study:verdict`, lets somebody who was there answer, and writes docs/study-questions.md. Seeded.
 * `npm run study:questions -- 4` takes 4 months of each sort and setting and prints the tables instead.
 */
import { writeFileSync } from "node:fs";
import { answersInThreads } from "./in-threads.js";
import { monthSorts } from "./questions/months.js";
import { askedTable, verdictTable } from "./questions/table.js";
import type { MonthAnswered, MonthAsked } from "./questions/worker.js";

const FULL = 12;
const memories = [
  { id: "all true", mistakes: 0, unknown: 0 },
  { id: "5 % wrong", mistakes: 0.05, unknown: 0 },
  { id: "a third \"don't know\"", mistakes: 0, unknown: 1 / 3 },
] as const;

const [countText = String(FULL)] = process.argv.slice(2);
const months = Number(countText);
if (!Number.isInteger(months) || months < 1) throw new RangeError(`The number of months is a whole number above 0, not ${countText}.`);

const asked = memories.flatMap((memory) =>
  monthSorts.flatMap(({ id }) =>
    (["breaks", "keeps", "sound"] as const).flatMap((setting) => Array.from({ length: months }, (_, unit): MonthAsked => ({ month: id, setting, unit, memory, alsoBefore: memory.mistakes === 0 && memory.unknown === 0 }))),
  ),
);
const answers = await answersInThreads(new URL("./questions/worker.js", import.meta.url), asked, ({ month, setting, memory, result: { now, table, random } }: MonthAnswered, answered) => {
  process.stderr.write(`${answered} of ${asked.length}: ${month}, ${setting}, ${memory.id}: ${now.before} -> ${now.after} after ${now.asked}; table ${table ?? "–"}, random ${random ?? "–"}\n`);
});
const tables = `${askedTable(answers)}\n\n${verdictTable(answers)}`;
if (months >= FULL) writeFileSync("docs/study-questions.md", text());
process.stdout.write(`${tables}\n`);

function text(): string {
  return `# How many questions until a verdict settles? A simulation study

\`npm run study:questions\` makes months whose truth is known and whose diary stops after three to four weeks, audits each, lets somebody who
was there answer the first question, audits again, and so on until no answer can change the verdict. It writes this page: ${months} months of
each sort and setting (\`npm run study:questions -- 4\` takes 4 and prints the tables). The generator is that of [study-verdict.md](study-verdict.md).

The earlier table asked for the state of one person or bay over a stretch of minutes; it was filled in truly, row by row, until no answer
could change the verdict any more. A question about a habit counts as one. Median, and the middle eight of ten.

${askedTable(answers)}

Answers of all sorts of months together, with exact intervals (Clopper and Pearson, 95 %). In the months of the nights the rule has no fault:

${verdictTable(answers)}
`;
}
