import { expect, test } from "vitest";
import { timelineOf } from "../../src/timeline/make.js";
import { stateAt, stepAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";

const door = timelineOf(0, 10, [[0, OFF], [3, ON], [5, UNKNOWN], [8, OFF]]);

test("a step holds from its instant until just before the next", () => {
  expect([0, 2.9, 3, 4.9, 5, 7.9, 8, 9.9].map((instant) => stateAt(door, instant))).toEqual([OFF, OFF, ON, ON, UNKNOWN, UNKNOWN, OFF, OFF]);
});

test("outside the timeline nobody can tell", () => {
  expect([-1, 10, 11, NaN].map((instant) => stateAt(door, instant))).toEqual([UNKNOWN, UNKNOWN, UNKNOWN, UNKNOWN]);
});

test("the step in force is found by its index", () => {
  expect([-4, 0, 3, 4, 8, 99].map((instant) => stepAt(door, instant))).toEqual([0, 0, 1, 1, 3, 3]);
});
