/**
 * Does the road of design clear a rule that is not fit? `npm run study:by-design` makes histories of three months with known truth, audits
 * them month by month and writes docs/study-by-design.md. Seeded: the same table every time. `npm run study:by-design -- 40` takes 40
 * histories a mechanism; `-- 40 even,twins` only those, and prints the table instead.
 */
import { writeFileSync } from "node:fs";
import { mechanisms } from "./by-design/mechanisms.js";
import { byDesignTable, byDesignText, type MechanismResult } from "./by-design/table.js";
import type { Answered, Asked } from "./by-design/worker.js";
import { answersInThreads } from "./in-threads.js";

/** Histories without the fault, for so many with it. */
const SOUND_SHARE = 1 / 10;

const [countText = "20", onlyText] = process.argv.slice(2);
const count = Number(countText);
const only = onlyText?.split(",");
if (!Number.isInteger(count) || count < 1) throw new RangeError(`The number of histories is a whole number above 0, not ${countText}.`);
const unknown = (only ?? []).filter((id) => !mechanisms.some((one) => one.id === id));
if (unknown.length > 0) throw new RangeError(`No mechanism is called ${unknown.join(", ")}. There are ${mechanisms.map(({ id }) => id).join(", ")}.`);

const chosen = mechanisms.filter(({ id }) => only?.includes(id) ?? true);
const upTo = (number: number): number[] => Array.from({ length: number }, (_, i) => i);
const asked = chosen.flatMap(({ id }): Asked[] => [
  ...upTo(count).map((history): Asked => ({ mechanism: id, setting: "breaks", history })),
  ...upTo(Math.ceil(count * SOUND_SHARE)).map((history): Asked => ({ mechanism: id, setting: "sound", history })),
]);
const answers = await answersInThreads(new URL("./by-design/worker.js", import.meta.url), asked, ({ mechanism, setting, history, result }: Answered, answered) => {
  process.stderr.write(`${answered} of ${asked.length}: ${mechanism}, ${setting} ${history}: ${result.verdict}; ${result.closedBy.join(", ") || "open"}\n`);
});
const results = chosen.map((mechanism): MechanismResult => {
  const own = answers.filter((one) => one.mechanism === mechanism.id);
  const of = (setting: Asked["setting"]) => own.filter((one) => one.setting === setting).map(({ result }) => result);
  return { mechanism, truth: own[0]!.truth, breaks: of("breaks"), sound: of("sound") };
});
if (only === undefined) writeFileSync("docs/study-by-design.md", byDesignText(results));
process.stdout.write(`${byDesignTable(results)}\n`);
