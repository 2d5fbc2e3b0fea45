import fc from "fast-check";
import { expect, test } from "vitest";
import { timelineOf } from "../../src/timeline/make.js";
import { patched } from "../../src/timeline/patched.js";
import { restrict } from "../../src/timeline/restrict.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyTimeline, END, expectCanonical, gridInstants, onGrid, RUNS, START } from "./brute-force.js";

const door = timelineOf(0, 20, [[0, OFF], [5, ON], [9, OFF], [15, ON]]);

test("shows another history for as long as it lasts, and its own before and after", () => {
  expect(patched(door, [timelineOf(7, 12, [[7, UNKNOWN], [10, ON]])])).toEqual(timelineOf(0, 20, [[0, OFF], [5, ON], [7, UNKNOWN], [10, ON], [12, OFF], [15, ON]]));
});

test("without patches it is itself", () => {
  expect(patched(door, [])).toBe(door);
});

test("refuses patches that overlap or lie outside", () => {
  const patch = timelineOf(7, 12, []);
  expect(() => patched(door, [patch, patch])).toThrow(RangeError);
  expect(() => patched(door, [timelineOf(-1, 3, [])])).toThrow(RangeError);
  expect(() => patched(door, [timelineOf(15, 21, [])])).toThrow(RangeError);
});

test("every instant has the state of the patch that it lies in, or else its own", () => {
  fc.assert(
    fc.property(anyTimeline, anyTimeline, fc.uniqueArray(fc.integer({ min: START, max: END }), { maxLength: 6 }), (x, y, ends) => {
      const sorted = ends.toSorted((a, b) => a - b);
      const patches = Array.from({ length: Math.floor(sorted.length / 2) }, (_, i) => restrict(y, sorted[2 * i]!, sorted[2 * i + 1]!));
      const mended = patched(x, patches);
      expectCanonical(mended);
      expect(onGrid(mended)).toEqual(gridInstants(START, END).map((at) => stateAt(patches.find((one) => one.start <= at && at < one.end) ?? x, at)));
    }),
    RUNS,
  );
});
