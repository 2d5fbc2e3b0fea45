import fc from "fast-check";
import { expect, test } from "vitest";
import { durations } from "../../src/timeline/durations.js";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyTimeline, GRID, onGrid, RUNS } from "./brute-force.js";

test("counts the last step until the end", () => {
  expect(durations(timelineOf(0, 10, [[1, ON], [4, OFF], [6, ON]]))).toEqual({ offMs: 2, onMs: 7, unknownMs: 1 });
});

test("the three sum to the whole, agree with the grid, and the denial swaps off and on", () => {
  fc.assert(
    fc.property(anyTimeline, (x) => {
      const { offMs, onMs, unknownMs } = durations(x);
      const cells = onGrid(x);
      const counted = (state: number): number => cells.filter((cell) => cell === state).length * GRID;
      expect([offMs, onMs, unknownMs]).toEqual([counted(OFF), counted(ON), counted(UNKNOWN)]);
      expect(offMs + onMs + unknownMs).toBe(x.end - x.start);
      expect(durations(not(x))).toEqual({ offMs: onMs, onMs: offMs, unknownMs });
    }),
    RUNS,
  );
});
