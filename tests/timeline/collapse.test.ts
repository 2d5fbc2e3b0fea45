import fc from "fast-check";
import { expect, test } from "vitest";
import { collapse } from "../../src/timeline/collapse.js";
import { timelineOf } from "../../src/timeline/make.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyTimeline, expectCanonical, onGrid, RUNS } from "./brute-force.js";

test("unknown becomes off: a rule fails shut", () => {
  expect(collapse(timelineOf(0, 10, [[2, ON], [4, UNKNOWN], [6, OFF], [8, ON]]))).toEqual(timelineOf(0, 10, [[0, OFF], [2, ON], [4, OFF], [8, ON]]));
});

test("what is on stays on, everything else is off, and twice is once", () => {
  fc.assert(
    fc.property(anyTimeline, (x) => {
      const result = collapse(x);
      expectCanonical(result);
      expect(onGrid(result)).toEqual(onGrid(x).map((state) => (state === ON ? ON : OFF)));
      expect(collapse(result)).toEqual(result);
    }),
    RUNS,
  );
});
