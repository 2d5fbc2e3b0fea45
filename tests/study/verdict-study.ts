/**
 * How often is a rule cleared that is not fit, and refused that is? `npm run study:verdict` makes months with known truth by a generator
 * that shares nothing with `simulate`, audits them and writes docs/study-verdict.md. Seeded: the same table every time.
 * `npm run study:verdict -- 30` takes 30 months a mechanism; `-- 30 season,twins` only those, and prints the table instead.
 */
import { writeFileSync } from "node:fs";
import { answersInThreads } from "./in-threads.js";
import type { Setting } from "./verdict/limits.js";
import type { Mechanism } from "./verdict/mechanism.js";
import { mechanisms } from "./verdict/mechanisms.js";
import { studyTable, studyText } from "./verdict/table.js";
import type { Answered, Asked } from "./verdict/worker.js";

const [monthsText = "200", onlyText] = process.argv.slice(2);
const months = Number(monthsText);
const only = onlyText?.split(",");
if (!Number.isInteger(months) || months < 1) throw new RangeError(`The number of months is a whole number above 0, not ${monthsText}.`);
const unknown = (only ?? []).filter((id) => !mechanisms.some((one) => one.id === id));
if (unknown.length > 0) throw new RangeError(`No mechanism is called ${unknown.join(", ")}. There are ${mechanisms.map(({ id }) => id).join(", ")}.`);

const chosen = mechanisms.filter(({ id }) => only?.includes(id) ?? true);
const answers = await answersTo(chosen.flatMap((one) => settingsOf(one).map((setting): Asked => ({ mechanism: one.id, setting, months: monthsOf(one, setting) }))));
if (only === undefined) writeFileSync("docs/study-verdict.md", studyText(chosen, answers, months));
process.stdout.write(`${studyTable(chosen, answers)}\n`);
process.stderr.write(`${(answers.reduce((sum, { result }) => sum + result.auditMs, 0) / answers.length).toFixed(0)} ms an audit on average.\n`);

/** The settings of a mechanism that mean something. */
function settingsOf({ breaks, mild }: Mechanism): Setting[] {
  return breaks === null ? ["keeps"] : mild ? ["breaks", "keeps", "sound"] : ["breaks", "sound"];
}

/**
 * What may never happen is counted most often: a rule cleared that breaks its limit. The other settings take an eighth as many months; a
 * run of twelve looks, or of ten rules, takes as long as ten months or more: a quarter as many.
 */
function monthsOf({ id, looks }: Mechanism, setting: Setting): number {
  const share = (setting === "breaks" ? 1 : 1 / 8) * (looks === undefined && id !== "best-of-ten" ? 1 : 1 / 4);
  return Math.max(1, Math.ceil(months * share));
}

/** Hands the questions to threads, the longest first. */
async function answersTo(asked: readonly Asked[]): Promise<Answered[]> {
  const cost = (one: Asked): number => one.months * (mechanisms.find(({ id }) => id === one.mechanism)!.looks ?? 1);
  const longestFirst = asked.toSorted((a, b) => cost(b) - cost(a));
  return answersInThreads(new URL("./verdict/worker.js", import.meta.url), longestFirst, ({ mechanism, setting, result }: Answered, answered) => {
    const { cleared, refused, months: of, auditMs, against } = result;
    const reasons = Object.entries(against).map(([code, count]) => `${code} ${count}`);
    process.stderr.write(`${answered} of ${asked.length}: ${mechanism}, ${setting}: cleared ${cleared}, refused ${refused} of ${of}, ${auditMs.toFixed(0)} ms an audit; ${reasons.join(", ")}\n`);
  });
}
