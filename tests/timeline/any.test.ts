import fc from "fast-check";
import { expect, test } from "vitest";
import { all } from "../../src/timeline/all.js";
import { any } from "../../src/timeline/any.js";
import { not } from "../../src/timeline/not.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type TruthState } from "../../src/timeline/timeline.js";
import { anyTimeline, END, expectCanonical, gridInstants, RUNS, someTimelines, START } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";

const states: readonly TruthState[] = [OFF, ON, UNKNOWN];

test("Kleene's table for 'or': one on settles it, unknown matters only beside off", () => {
  const table = states.map((a) => states.map((b) => stateAt(any([constantTimeline(0, 1, a), constantTimeline(0, 1, b)]), 0)));
  expect(table).toEqual([
    [OFF, ON, UNKNOWN],
    [ON, ON, ON],
    [UNKNOWN, ON, UNKNOWN],
  ]);
});

test("of nothing is refused", () => {
  expect(() => any([])).toThrow(RangeError);
});

test("at every instant: on if one is on, off if every one is off, else unknown", () => {
  fc.assert(
    fc.property(someTimelines, (xs) => {
      const either = any(xs);
      expectCanonical(either);
      for (const instant of gridInstants(START, END)) {
        const now = xs.map((x) => stateAt(x, instant));
        expect(stateAt(either, instant)).toBe(now.includes(ON) ? ON : now.includes(UNKNOWN) ? UNKNOWN : OFF);
      }
    }),
    RUNS,
  );
});

test("De Morgan: not any is every one not; and 'x or (x and y)' is x", () => {
  fc.assert(
    fc.property(someTimelines, anyTimeline, (xs, y) => {
      expect(not(any(xs))).toEqual(all(xs.map(not)));
      expect(any([xs[0]!, all([xs[0]!, y])])).toEqual(xs[0]);
    }),
    RUNS,
  );
});

test("a thing or its opposite is not certain while the thing is unknown", () => {
  const x = constantTimeline(START, END, UNKNOWN);
  expect(any([x, not(x)])).toEqual(x);
});
