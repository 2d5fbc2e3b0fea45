import fc from "fast-check";
import { expect, it } from "vitest";
import { TAKEN_BACK, withoutTakenBack } from "../../../src/intake/diary-corrections.js";
import type { DiaryEntry } from "../../../src/intake/readings.js";
import { judgeRule } from "../../../src/judge/judge.js";
import { recounting } from "../../../src/judge/questions/recount.js";
import { supposing, type Row } from "../../../src/judge/questions/suppose.js";
import type { RuleFinding } from "../../../src/result/rules.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { accountsOf, allOf, is, min, over, ruleOf } from "../small-site.js";
import { asked, days, household, rule } from "./small-household.js";

/*
 * The twin of supposing answers is writing them into the diary and judging the rule anew, references and all. What stays out of the
 * supposition (the error rates that other sensors learn from the diary, what lying sensors could do, the road of design) has no part in
 * what is compared here: counts, bounds and verdict.
 */

const DAYS = 20;
const DAY_MIN = 24 * 60;
const period = days(DAYS);
const site = household({ wrongPerYear: 15, missedShare: 0.5, withinMs: min(2) });

/** What happens on a day, in minutes after midnight: Sam goes and comes, Robin too on some days, a phone may be lost for a while. */
const oneDay = fc.record({
  goes: fc.integer({ min: 400, max: 500 }),
  comes: fc.integer({ min: 900, max: 1000 }),
  gateLate: fc.integer({ min: -1, max: 1 }),
  robin: fc.boolean(),
  lost: fc.option(fc.integer({ min: 1100, max: 1300 })),
  visitor: fc.boolean(),
});
type OneDay = typeof oneDay extends fc.Arbitrary<infer Value> ? Value : never;

function toldBy(month: readonly OneDay[]): Record<string, string> {
  const lines = { "gate-contact": ["0 off"], "phone-sam": ["0 on"], "phone-robin": ["0 on"] };
  month.forEach(({ goes, comes, gateLate, robin, lost, visitor }, i) => {
    const at = i * DAY_MIN;
    lines["gate-contact"].push(`${at + goes} on, ${at + goes + 1} off, ${at + comes + gateLate} on, ${at + comes + gateLate + 2} off`);
    lines["phone-sam"].push(`${at + goes + 2} off, ${at + comes} on`);
    if (robin) lines["phone-robin"].push(`${at + goes + 3} off, ${at + comes + 1} on`);
    if (lost !== null) lines["phone-sam"].push(`${at + lost} off, ${at + lost + 20} on`);
    if (lost !== null && visitor) lines["gate-contact"].push(`${at + lost + 19} on, ${at + lost + 21} off`);
  });
  return Object.fromEntries(Object.entries(lines).map(([signal, own]) => [signal, own.join(", ")]));
}

function diaryOf(month: readonly OneDay[], kept: number): DiaryEntry[] {
  const entry = (subject: string, state: 0 | 1, from: number, to: number): DiaryEntry => ({ subject, state, from: min(from), to: min(to), file: "diary.csv", line: 2 });
  return month.slice(0, kept).flatMap(({ goes, comes, robin }, i) => {
    const at = i * DAY_MIN;
    return [true, robin].flatMap((out, person) => {
      const subject = person === 0 ? "sam" : "robin";
      return out ? [entry(subject, 1, at, at + goes), entry(subject, 0, at + goes, at + comes), entry(subject, 1, at + comes, at + DAY_MIN)] : [entry(subject, 1, at, at + DAY_MIN)];
    });
  });
}

/** The diary with the rows written below its last line. */
function written(entries: readonly DiaryEntry[], rows: readonly Row[]): DiaryEntry[] {
  const stated = rows.filter(({ state }) => state !== "" && state !== TAKEN_BACK);
  const taken = rows.filter(({ state }) => state === TAKEN_BACK).map((row) => ({ ...row, file: "diary.csv", line: 3 }));
  return [...withoutTakenBack(entries, taken), ...stated.map(({ subject, state, from, to }): DiaryEntry => ({ subject, state: state === "here" ? 1 : 0, from, to, file: "diary.csv", line: 4 }))];
}

const compared = ({ verdict, firings, wanted, bounds, evidence }: Pick<RuleFinding, "verdict" | "firings" | "wanted" | "bounds" | "evidence">) => ({ verdict, firings, wanted, bounds, evidence });

it("gives what an audit gives with these answers in the diary, for any answers to the questions of an invented month", () => {
  let supposed = 0;
  fc.assert(
    fc.property(fc.array(oneDay, { minLength: DAYS, maxLength: DAYS }), fc.integer({ min: 0, max: 12 }), fc.array(fc.nat(), { minLength: 40, maxLength: 40 }), (month, kept, picks) => {
      const told = toldBy(month);
      const entries = diaryOf(month, kept);
      const { questions, judged } = asked(site, told, period, { entries });
      const rows = questions.list.flatMap(({ answers }, i) => answers[(picks[i] ?? 0) % answers.length]?.rows ?? []);
      supposed += rows.length;
      const accounts = accountsOf(told, [], period);
      const anew = judgeRule(over(site, rule, accounts, makeReferenceBook(site, accounts, written(entries, rows), period), period));
      const bare = makeReferenceBook(site, accounts, [], period);
      expect(compared(supposing(judged, rows, bare))).toEqual(compared(anew));
      const { firings, wanted } = recounting(judged, bare)(rows);
      expect({ firings, wanted }).toEqual({ firings: anew.firings, wanted: anew.wanted });
      const recounted = recounting(judged, bare);
      for (const answer of questions.list.flatMap(({ answers }) => answers)) {
        const slowly = supposing(judged, answer.rows, bare);
        expect(recounted(answer.rows)).toEqual({ firings: slowly.firings, wanted: slowly.wanted });
      }
    }),
    { numRuns: 12, seed: 20_261_126 },
  );
  expect(supposed).toBeGreaterThan(30);
}, 120_000);

const lock = ruleOf(allOf(is("phone-sam", 0), is("phone-robin", 0), is("gate-contact", 0)), allOf(is("sam", 0), is("robin", 0)), { act: "lock" });

it("counts a lock rule anew near some rows as it does over the whole month, whatever is written in them", () => {
  const row = fc.record({ subject: fc.constantFrom("sam", "robin"), state: fc.constantFrom("here", "away", ""), from: fc.integer({ min: 0, max: DAYS * DAY_MIN - 700 }), length: fc.integer({ min: 1, max: 600 }) });
  let changed = 0;
  fc.assert(
    fc.property(fc.array(oneDay, { minLength: DAYS, maxLength: DAYS }), fc.integer({ min: 0, max: 12 }), fc.array(fc.array(row, { minLength: 1, maxLength: 4 }), { minLength: 8, maxLength: 8 }), (month, kept, some) => {
      const told = toldBy(month);
      const { judged } = asked(site, told, period, { entries: diaryOf(month, kept) }, lock);
      const bare = makeReferenceBook(site, accountsOf(told, [], period), [], period);
      const recounted = recounting(judged, bare);
      for (const rows of some.map((own) => own.map(({ subject, state, from, length }): Row => ({ subject, state, from: min(from), to: min(from + length) })))) {
        const slowly = supposing(judged, rows, bare);
        const { firings, wanted } = recounted(rows);
        expect({ firings, wanted }).toEqual({ firings: slowly.firings, wanted: slowly.wanted });
        if (wanted.count !== judged.finding.wanted.count || firings.right !== judged.finding.firings.right) changed += 1;
      }
    }),
    { numRuns: 25, seed: 20_261_128 },
  );
  expect(changed).toBeGreaterThan(40);
}, 120_000);
