import fc from "fast-check";
import { expect, test } from "vitest";
import { collapse } from "../../src/timeline/collapse.js";
import { timelineOf } from "../../src/timeline/make.js";
import { rises } from "../../src/timeline/rises.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyTimeline, END, GRID, gridInstants, RUNS, START } from "./brute-force.js";

test("a rise is from off or from unknown, and never at the start", () => {
  const rule = timelineOf(0, 20, [[0, ON], [2, OFF], [5, ON], [8, UNKNOWN], [11, ON]]);
  expect(rises(rule)).toEqual(Float64Array.of(5, 11));
});

test("rises are the instants that are on while the instant before was not; collapsing keeps them", () => {
  fc.assert(
    fc.property(anyTimeline, (x) => {
      const walked = gridInstants(START + GRID, END).filter((t) => stateAt(x, t) === ON && stateAt(x, t - GRID) !== ON);
      expect([...rises(x)]).toEqual(walked);
      expect(rises(collapse(x))).toEqual(rises(x));
    }),
    RUNS,
  );
});
