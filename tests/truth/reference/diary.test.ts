import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { DiaryEntry } from "../../../src/intake/readings.js";
import { diaryCounts, diaryTimeline, ratesFromDiary, withoutEdges } from "../../../src/truth/reference/diary.js";
import { layOut } from "../../../src/truth/reference/layout.js";
import { knownTimeNotes, referenceModels } from "../../../src/truth/reference/models.js";
import { witnessesOf } from "../../../src/truth/reference/witness.js";
import type { SubjectClass } from "../../../src/site/site.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { steps } from "../signals/small-site.js";
import { MONTH } from "../../study/study-site.js";
import { diaryMonth, secondHalf } from "./diary-months.js";
import { inMinutes, MINUTE, smallSite, wrote, type Steps } from "./small-witnesses.js";

const LENGTH = 600;
const period = { from: 0, to: LENGTH * MINUTE };

describe("a correct diary of half a month", () => {
  const classes: readonly { subjectClass: SubjectClass; stayMinutes: number; lateMinutes: number }[] = [
    { subjectClass: "door", stayMinutes: 6, lateMinutes: 0.3 },
    { subjectClass: "bay", stayMinutes: 240, lateMinutes: 8 },
    { subjectClass: "person", stayMinutes: 240, lateMinutes: 8 },
  ];
  const cases = classes.flatMap((one) => [1, 2, 3].flatMap((witnesses) => [0, 40].flatMap((flaps) => [1, 0.4].map((kept) => ({ ...one, witnesses, flaps, kept })))));

  test.each(cases)("takes next to nothing of the other half away: $subjectClass, $witnesses witnesses, $flaps flaps, $kept of it written down", (parts) => {
    const halves = [1, 2, 3, 4].map((seed) => {
      const month = diaryMonth(seed, parts);
      return { without: secondHalf(month, []), with: secondHalf(month, month.diary) };
    });
    const mean = (of: (one: (typeof halves)[number]) => number): number => halves.reduce((sum, one) => sum + of(one), 0) / halves.length;
    expect(mean((one) => one.with.known)).toBeGreaterThan(mean((one) => one.without.known) - 0.03);
    for (const one of halves) expect(one.with.known).toBeGreaterThan(one.without.known - 0.08);
    expect(mean((one) => one.with.wrong)).toBeLessThan(mean((one) => one.without.wrong) + 0.02);
  });
});

describe("errors counted in the diary", () => {
  const laidOut = (steps: Steps, diary: ReturnType<typeof wrote>[]) => {
    const { site, accounts } = smallSite({ mat: { on: "bay-1", account: inMinutes(LENGTH, steps) } });
    return layOut(witnessesOf(site, accounts), diaryTimeline(diary, "bay-1", period), period, 5 * MINUTE);
  };

  test("leave out what lies between the diary's rounded times and the change that belongs to it", () => {
    const layout = laidOut([[0, 0], [107, 1], [293, 0]], [wrote("bay-1", 0, 0, 100), wrote("bay-1", 1, 100, 300), wrote("bay-1", 0, 300, 500)]);
    expect([...layout.votes[0]!]).toEqual([0, 0, 1, 0, 0, 0]);
    expect([...withoutEdges(layout, period).votes[0]!]).toEqual([0, 2, 1, 2, 0, 0]);
  });

  test("keep a visit that the witness did not see, however short, and a change that came half an hour late", () => {
    const missed = laidOut([[0, 0]], [wrote("bay-1", 0, 0, 100), wrote("bay-1", 1, 100, 105), wrote("bay-1", 0, 105, 200)]);
    expect([...withoutEdges(missed, period).votes[0]!]).toEqual([0, 0, 0, 0]);
    const late = laidOut([[0, 0], [130, 1]], [wrote("bay-1", 0, 0, 100), wrote("bay-1", 1, 100, 200)]);
    expect([...withoutEdges(late, period).votes[0]!]).toEqual([0, 0, 1, 1]);
  });

  test("count a short stretch by its length, a long one once", () => {
    const layout = laidOut([[0, 0], [100, 1], [101, 0], [200, 1], [202, 0]], [wrote("bay-1", 0, 0, 400)]);
    const [off] = diaryCounts(layout, period, 20 * MINUTE).saysOnGivenOff;
    expect(off!.hits).toBeCloseTo(1 / 20 + 2 / 20, 12);
    expect(off!.trials).toBeCloseTo(3 + 1 / 20 + 2 / 20, 12);
  });

  test("make a witness worse than the prior only as far as is certain", () => {
    const used = (hits: number, trials: number): number => ratesFromDiary({ saysOnGivenOff: [{ hits, trials }], saysOffGivenOn: [{ hits: 0, trials: 5 }] }).saysOnGivenOff[0]!;
    expect(used(2, 6)).toBe(0.05);
    expect(used(0, 20)).toBeCloseTo(0.25 / 25, 12);
    expect(used(30, 60)).toBeGreaterThan(0.3);
    expect(used(30, 60)).toBeLessThan(30.25 / 65);
    // The exact lower bound p at 99 %: the chance of as many errors or more is 1 %. For one of n it is
    // 1 − 0.99^(1/n), below the prior.
    expect(used(1, 8)).toBe(0.05);
    const four = used(4, 5);
    expect(four ** 5 + 5 * four ** 4 * (1 - four)).toBeCloseTo(0.01, 9);
    const three = used(3, 3);
    expect(three ** 3).toBeCloseTo(0.01, 9);
  });
});

describe("how much of the time the truth was known", () => {
  test("is told in hours, with the diary's own apart", () => {
    const { site, accounts } = smallSite({ mat: { on: "bay-1", account: inMinutes(LENGTH, [[0, 0], [120, 2], [240, 1]]) }, beam: { on: "bay-1", account: inMinutes(LENGTH, [[0, 2], [240, 1]]) } });
    const [model] = referenceModels(site, accounts, [wrote("bay-1", 0, 60, 120), wrote("bay-1", 1, 200, 240)], period);
    const { diaryHours, ...others } = model!.known!;
    expect(diaryHours).toBeCloseTo(100 / 60, 9);
    expect(others).toEqual({ severalHours: 6, oneHours: 1, noneHours: 80 / 60 });
  });

  test("is noted where outside the diary it is less than half", () => {
    const known = { diaryHours: 300, severalHours: 0, oneHours: 100, noneHours: 320 };
    expect(knownTimeNotes([{ subject: "bay-1", known }, { subject: "bay-2", known: { ...known, oneHours: 400 } }])).toEqual([
      "Outside your diary (300 of 720 h) nobody can tell for 76 % of the time what happened with bay-1: its figures rest on the other times only.",
    ]);
    expect(knownTimeNotes([{ subject: "bay-1", known: { ...known, diaryHours: 0 } }])).toEqual(["Nobody can tell for 76 % of the time what happened with bay-1: its figures rest on the other times only."]);
    // Nothing known at all has a note of its own.
    expect(knownTimeNotes([{ subject: "bay-1", known: { diaryHours: 0, severalHours: 0, oneHours: 0, noneHours: 720 } }])).toEqual([]);
    expect(MONTH.to).toBe(720 * 60 * MINUTE);
  });
});

function entryOf(state: 0 | 1, from: number, to: number, subject = "bay"): DiaryEntry {
  return { subject, state, from, to, file: "diary.csv", line: 2 };
}

test("a diary is known where something was written, and clipped to the period", () => {
  expect(steps(diaryTimeline([entryOf(1, -20, 10), entryOf(0, 50, 60), entryOf(1, 90, 200)], "bay", { from: 0, to: 100 }))).toEqual([[0, 1], [10, 2], [50, 0], [60, 2], [90, 1]]);
});

test("a diary says nothing of other subjects, and nothing in no time", () => {
  expect(steps(diaryTimeline([entryOf(1, 10, 20, "door"), entryOf(1, 30, 30)], "bay", { from: 0, to: 100 }))).toEqual([[0, 2]]);
});

test("a diary that contradicts itself is certain of neither", () => {
  expect(steps(diaryTimeline([entryOf(1, 10, 40), entryOf(0, 30, 60)], "bay", { from: 0, to: 100 }))).toEqual([[0, 2], [10, 1], [30, 2], [40, 0], [60, 2]]);
});

test("a diary is, at every instant, what its entries over that instant agree on", () => {
  const entry = fc.record({ state: fc.constantFrom<0 | 1>(0, 1), from: fc.integer({ min: -10, max: 50 }), length: fc.integer({ min: 0, max: 30 }) });
  fc.assert(
    fc.property(fc.array(entry, { maxLength: 6 }), (entries) => {
      const line = diaryTimeline(entries.map(({ state, from, length }) => entryOf(state, from, from + length)), "bay", { from: 0, to: 50 });
      for (let at = 0; at < 50; at += 1) {
        const said = new Set(entries.filter(({ from, length }) => from <= at && at < from + length).map(({ state }) => state));
        expect(stateAt(line, at)).toBe(said.size === 1 ? [...said][0] : 2);
      }
    }),
    { numRuns: 200 },
  );
});
