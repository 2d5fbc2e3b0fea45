/**
 * Do the bounds of the road of design hold? `npm run study:evidence` makes histories with known truth by a generator that shares
 * nothing with `simulate`, asks the program for its bounds and writes docs/study-evidence.md. Seeded: the same tables every time.
 * `npm run study:evidence -- 200` takes 200 histories a setting; `-- 200 even,bursts` only those, and prints the tables instead.
 */
import { writeFileSync } from "node:fs";
import { countedHomes } from "./evidence/counted-homes.js";
import { BRIEF_YEARS, households, NO_PARTS } from "./evidence/households.js";
import { settings } from "./evidence/settings.js";
import { studyTables, type Results } from "./evidence/tables.js";
import { studyText } from "./evidence/text.js";
import type { Answered, Asked } from "./evidence/worker.js";
import { answersInThreads } from "./in-threads.js";

/** Histories a question; a thread answers it in some seconds. */
const CHUNK = 50;
/** One history in five is looked at every month. */
const EVERY_MONTH_SHARE = 1 / 5;
/** Years of a household for each history, so that it has as many months; fewer of one whose rule is judged by counting. */
const YEARS_A_HISTORY = 1 / 12;
const COUNTED_A_HISTORY = 0.012;

const [countText = "2000", onlyText] = process.argv.slice(2);
const count = Number(countText);
const only = onlyText?.split(",");
if (!Number.isInteger(count) || count < 1) throw new RangeError(`The number of histories is a whole number above 0, not ${countText}.`);
const known = [...settings, ...households, ...countedHomes].map(({ id }) => id);
const unknown = (only ?? []).filter((id) => !known.includes(id));
if (unknown.length > 0) throw new RangeError(`No setting is called ${unknown.join(", ")}. There are ${known.join(", ")}.`);

const isChosen = ({ id }: { readonly id: string }): boolean => only?.includes(id) ?? true;
const chosen = { settings: settings.filter(isChosen), households: households.filter(isChosen), countedHomes: countedHomes.filter(isChosen) };
const years = Math.ceil(count * YEARS_A_HISTORY);
const started = performance.now();
const answers = await answersTo(questions());
const results: Results = {
  ...chosen,
  histories: count,
  everyMonth: everyMonthBefore(),
  truths: new Map(answers.flatMap((one) => (one.about === "truth" ? [[one.id, one.truth]] : []))),
  looks: grouped(answers.flatMap((one) => (one.about === "histories" ? [{ id: one.id, from: one.from, items: one.looks }] : []))),
  years: grouped(answers.flatMap((one) => (one.about === "household" ? [{ id: one.id, from: one.from, items: one.years }] : []))),
  counted: grouped(answers.flatMap((one) => (one.about === "counted" ? [{ id: one.id, from: one.from, items: one.counted }] : []))),
};
if (only === undefined) writeFileSync("docs/study-evidence.md", studyText(results));
process.stdout.write(`${studyTables(results)}\n`);
process.stderr.write(`${((performance.now() - started) / 60_000).toFixed(1)} min.\n`);

function everyMonthBefore(): number {
  return Math.ceil(count * EVERY_MONTH_SHARE);
}

/** The longest first. */
function questions(): Asked[] {
  const asked: Asked[] = [];
  for (const { id, brief, clockFails } of chosen.households) {
    if (clockFails !== NO_PARTS) asked.push({ about: "household truth", id });
    for (let year = 0; year < (brief ? Math.min(years, BRIEF_YEARS) : years); year += 1) asked.push({ about: "household", id, from: year, to: year + 1 });
  }
  for (const { id } of chosen.countedHomes) {
    asked.push({ about: "household truth", id });
    for (let year = 0; year < Math.ceil(count * COUNTED_A_HISTORY); year += 1) asked.push({ about: "counted", id, from: year, to: year + 1 });
  }
  for (const { id } of chosen.settings) asked.push({ about: "truth", id });
  for (const { id } of chosen.settings) {
    for (let from = 0; from < count; from += CHUNK) asked.push({ about: "histories", id, from, to: Math.min(count, from + CHUNK), everyMonthBefore: everyMonthBefore() });
  }
  return asked;
}

/** What belongs to one setting, in the order of its histories, whichever thread answered first. */
function grouped<T>(parts: readonly { readonly id: string; readonly from: number; readonly items: readonly T[] }[]): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const { id, items } of parts.toSorted((a, b) => a.from - b.from)) found.set(id, [...(found.get(id) ?? []), ...items]);
  return found;
}

async function answersTo(asked: readonly Asked[]): Promise<Answered[]> {
  return answersInThreads(new URL("./evidence/worker.js", import.meta.url), asked, (answer: Answered, answered) => {
    process.stderr.write(`${answered} of ${asked.length}: ${answer.id}, ${((performance.now() - started) / 1000).toFixed(0)} s\n`);
  });
}
