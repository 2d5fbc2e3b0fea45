import fc from "fast-check";
import { expect, test } from "vitest";
import { durations } from "../../src/timeline/durations.js";
import { timelineOf } from "../../src/timeline/make.js";
import { stretches } from "../../src/timeline/stretches.js";
import { OFF, ON, UNKNOWN, type TruthState } from "../../src/timeline/timeline.js";
import { anyTimeline, RUNS } from "./brute-force.js";

const states: readonly TruthState[] = [OFF, ON, UNKNOWN];

test("a stretch runs from its step to the next; one still running ends with the timeline", () => {
  const door = timelineOf(0, 20, [[2, ON], [5, OFF], [11, ON]]);
  expect(stretches(door, ON)).toEqual([{ from: 2, to: 5 }, { from: 11, to: 20 }]);
  expect(stretches(door, UNKNOWN)).toEqual([{ from: 0, to: 2 }]);
});

test("the stretches of the three states tile the timeline and sum to its durations", () => {
  fc.assert(
    fc.property(anyTimeline, (x) => {
      const parts = states.map((state) => stretches(x, state));
      const tiles = parts.flat().sort((a, b) => a.from - b.from);
      expect(tiles.map((tile) => tile.from)).toEqual([...x.times]);
      expect(tiles.map((tile) => tile.to)).toEqual([...x.times.slice(1), x.end]);
      expect(parts.map((part) => part.reduce((sum, { from, to }) => sum + to - from, 0))).toEqual(Object.values(durations(x)));
    }),
    RUNS,
  );
});
