import fc from "fast-check";
import { expect, test } from "vitest";
import { durations } from "../../src/timeline/durations.js";
import { timelineOf } from "../../src/timeline/make.js";
import { overlap } from "../../src/timeline/overlap.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyTimeline, GRID, onGrid, RUNS } from "./brute-force.js";

test("each pair of states has its own total, the first timeline's state choosing the row", () => {
  const a = timelineOf(0, 10, [[0, OFF], [4, ON]]);
  const b = timelineOf(0, 10, [[3, OFF], [5, ON]]);
  expect([...overlap(a, b)]).toEqual([
    ...[1, 0, 3],
    ...[1, 5, 0],
    ...[0, 0, 0],
  ]);
});

test("refuses timelines over different times", () => {
  expect(() => overlap(timelineOf(0, 10, []), timelineOf(0, 11, []))).toThrow(RangeError);
});

test("agrees with the grid; rows sum to the durations of the first, columns to those of the second", () => {
  fc.assert(
    fc.property(anyTimeline, anyTimeline, (a, b) => {
      const totals = overlap(a, b);
      const inB = onGrid(b);
      const counted = new Float64Array(9);
      onGrid(a).forEach((state, i) => (counted[state * 3 + inB[i]!]! += GRID));
      expect(totals).toEqual(counted);

      const at = (i: number, j: number): number => totals[i * 3 + j]!;
      const states = [OFF, ON, UNKNOWN];
      const rows = states.map((i) => at(i, OFF) + at(i, ON) + at(i, UNKNOWN));
      const columns = states.map((j) => at(OFF, j) + at(ON, j) + at(UNKNOWN, j));
      expect(rows).toEqual(Object.values(durations(a)));
      expect(columns).toEqual(Object.values(durations(b)));
    }),
    RUNS,
  );
});

test("changing places transposes; a timeline overlaps itself only on the diagonal", () => {
  fc.assert(
    fc.property(anyTimeline, anyTimeline, (a, b) => {
      const one = overlap(a, b);
      const other = overlap(b, a);
      expect(Array.from({ length: 9 }, (_, k) => other[(k % 3) * 3 + Math.floor(k / 3)])).toEqual([...one]);
      const { offMs, onMs, unknownMs } = durations(a);
      expect([...overlap(a, a)]).toEqual([offMs, 0, 0, 0, onMs, 0, 0, 0, unknownMs]);
    }),
    RUNS,
  );
});
