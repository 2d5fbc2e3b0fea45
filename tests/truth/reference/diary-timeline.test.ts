import fc from "fast-check";
import { expect, test } from "vitest";
import type { DiaryEntry } from "../../../src/intake/readings.js";
import { diaryTimeline } from "../../../src/truth/reference/diary-timeline.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { steps } from "../signals/small-site.js";

const period = { from: 0, to: 100 };

function wrote(state: 0 | 1, from: number, to: number, subject = "bay"): DiaryEntry {
  return { subject, state, from, to, file: "diary.csv", line: 2 };
}

test("a diary is known where something was written, and clipped to the period", () => {
  expect(steps(diaryTimeline([wrote(1, -20, 10), wrote(0, 50, 60), wrote(1, 90, 200)], "bay", period))).toEqual([[0, 1], [10, 2], [50, 0], [60, 2], [90, 1]]);
});

test("a diary says nothing of other subjects, and nothing in no time", () => {
  expect(steps(diaryTimeline([wrote(1, 10, 20, "door"), wrote(1, 30, 30)], "bay", period))).toEqual([[0, 2]]);
});

test("a diary that contradicts itself is certain of neither", () => {
  expect(steps(diaryTimeline([wrote(1, 10, 40), wrote(0, 30, 60)], "bay", period))).toEqual([[0, 2], [10, 1], [30, 2], [40, 0], [60, 2]]);
});

test("a diary is, at every instant, what its entries over that instant agree on", () => {
  const entry = fc.record({ state: fc.constantFrom<0 | 1>(0, 1), from: fc.integer({ min: -10, max: 50 }), length: fc.integer({ min: 0, max: 30 }) });
  fc.assert(
    fc.property(fc.array(entry, { maxLength: 6 }), (entries) => {
      const line = diaryTimeline(entries.map(({ state, from, length }) => wrote(state, from, from + length)), "bay", { from: 0, to: 50 });
      for (let at = 0; at < 50; at += 1) {
        const said = new Set(entries.filter(({ from, length }) => from <= at && at < from + length).map(({ state }) => state));
        expect(stateAt(line, at)).toBe(said.size === 1 ? [...said][0] : 2);
      }
    }),
    { numRuns: 200 },
  );
});
