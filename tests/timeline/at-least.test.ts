import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { all } from "../../src/timeline/all.js";
import { any } from "../../src/timeline/any.js";
import { atLeast } from "../../src/timeline/at-least.js";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../src/timeline/timeline.js";
import { END, expectCanonical, gridInstants, RUNS, someTimelines, START } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";

const rail = timelineOf(0, 10, [[0, ON], [6, OFF]]);
const hinge = timelineOf(0, 10, [[0, OFF], [2, ON], [8, UNKNOWN]]);
const reed = timelineOf(0, 10, [[4, ON]]);

test("two of three: on once two are, off once two are off, unknown while it hangs on the third", () => {
  expect(atLeast(2, [rail, hinge, reed])).toEqual(timelineOf(0, 10, [[0, UNKNOWN], [2, ON], [8, UNKNOWN]]));
});

test("a quorum larger than the number of timelines is never met", () => {
  expect(atLeast(4, [rail, hinge, reed])).toEqual(constantTimeline(0, 10, OFF));
});

test("one timeline is its own quorum of one", () => {
  expect(atLeast(1, [hinge])).toEqual(hinge);
});

test("refuses no timelines, timelines over different times, and a quorum of nobody", () => {
  expect(() => atLeast(1, [])).toThrow(new RangeError("At least one timeline is needed."));
  expect(() => atLeast(1, [rail, timelineOf(0, 11, [])])).toThrow(new RangeError("Timelines must cover the same time: [0, 10) and [0, 11)."));
  expect(() => atLeast(1, [rail, timelineOf(1, 10, [])])).toThrow(new RangeError("Timelines must cover the same time: [0, 10) and [1, 10)."));
  expect(() => atLeast(0, [rail])).toThrow(new RangeError("A quorum is a whole number of 1 or more, not 0."));
  expect(() => atLeast(1.5, [rail])).toThrow(RangeError);
});

/** By enumeration: what would hold in every way the unknowns could have turned out. */
function byEnumeration(k: number, states: readonly TruthState[]): TruthState {
  const possible = states.reduce<number[]>((sums, state) => (state === UNKNOWN ? sums.flatMap((sum) => [sum, sum + 1]) : sums.map((sum) => sum + state)), [0]);
  const met = possible.map((sum) => sum >= k);
  return met.every(Boolean) ? ON : met.some(Boolean) ? UNKNOWN : OFF;
}

describe("at every instant", () => {
  const quorum = fc.integer({ min: 1, max: 7 });
  const statesAt = (xs: readonly Timeline[], instant: number): TruthState[] => xs.map((x) => stateAt(x, instant));

  test("it is what holds in every way the unknowns could have turned out", () => {
    fc.assert(
      fc.property(quorum, someTimelines, (k, xs) => {
        const met = atLeast(k, xs);
        expectCanonical(met);
        for (const instant of gridInstants(START, END)) expect(stateAt(met, instant)).toBe(byEnumeration(k, statesAt(xs, instant)));
      }),
      RUNS,
    );
  });

  test("the order of the timelines does not matter", () => {
    fc.assert(
      fc.property(quorum, someTimelines, (k, xs) => {
        expect(atLeast(k, xs.toReversed())).toEqual(atLeast(k, xs));
      }),
      RUNS,
    );
  });

  test("k of n on is the denial of n − k + 1 off", () => {
    fc.assert(
      fc.property(someTimelines, quorum, (xs, wanted) => {
        const k = Math.min(wanted, xs.length);
        expect(atLeast(k, xs)).toEqual(not(atLeast(xs.length - k + 1, xs.map(not))));
      }),
      RUNS,
    );
  });

  test("one more is never easier: a quorum of k + 1 on means a quorum of k on, and k off means k + 1 off", () => {
    fc.assert(
      fc.property(quorum, someTimelines, (k, xs) => {
        const easier = atLeast(k, xs);
        const harder = atLeast(k + 1, xs);
        // If the harder one is on, so is the easier; Kleene's "implies" is therefore nowhere off.
        expect([...any([not(harder), easier]).states]).not.toContain(OFF);
        expect(gridInstants(START, END).filter((t) => stateAt(easier, t) === OFF && stateAt(harder, t) !== OFF)).toEqual([]);
      }),
      RUNS,
    );
  });

  test("a quorum of all is 'all', of one is 'any'", () => {
    fc.assert(
      fc.property(someTimelines, (xs) => {
        expect(atLeast(xs.length, xs)).toEqual(all(xs));
        expect(atLeast(1, xs)).toEqual(any(xs));
      }),
      RUNS,
    );
  });
});
