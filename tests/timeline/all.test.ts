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

test("Kleene's table for 'and': one off settles it, unknown matters only beside on", () => {
  const table = states.map((a) => states.map((b) => stateAt(all([constantTimeline(0, 1, a), constantTimeline(0, 1, b)]), 0)));
  expect(table).toEqual([
    [OFF, OFF, OFF],
    [OFF, ON, UNKNOWN],
    [OFF, UNKNOWN, UNKNOWN],
  ]);
});

test("of nothing is refused: an empty 'and' would be true, and unlock", () => {
  expect(() => all([])).toThrow(RangeError);
});

test("at every instant: off if one is off, on if every one is on, else unknown", () => {
  fc.assert(
    fc.property(someTimelines, (xs) => {
      const both = all(xs);
      expectCanonical(both);
      for (const instant of gridInstants(START, END)) {
        const now = xs.map((x) => stateAt(x, instant));
        expect(stateAt(both, instant)).toBe(now.includes(OFF) ? OFF : now.includes(UNKNOWN) ? UNKNOWN : ON);
      }
    }),
    RUNS,
  );
});

test("saying it twice adds nothing; on adds nothing; off settles it", () => {
  fc.assert(
    fc.property(anyTimeline, (x) => {
      expect(all([x, x, x])).toEqual(x);
      expect(all([x, constantTimeline(START, END, ON)])).toEqual(x);
      expect(all([x, constantTimeline(START, END, OFF)])).toEqual(constantTimeline(START, END, OFF));
    }),
    RUNS,
  );
});

test("grouping does not matter, and it spreads over 'any'", () => {
  fc.assert(
    fc.property(anyTimeline, anyTimeline, anyTimeline, (x, y, z) => {
      expect(all([all([x, y]), z])).toEqual(all([x, all([y, z])]));
      expect(all([x, any([y, z])])).toEqual(any([all([x, y]), all([x, z])]));
    }),
    RUNS,
  );
});

test("De Morgan: not all is some not", () => {
  fc.assert(
    fc.property(someTimelines, (xs) => {
      expect(not(all(xs))).toEqual(any(xs.map(not)));
    }),
    RUNS,
  );
});
