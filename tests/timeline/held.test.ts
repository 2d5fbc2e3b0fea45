import fc from "fast-check";
import { expect, test } from "vitest";
import { all } from "../../src/timeline/all.js";
import { any } from "../../src/timeline/any.js";
import { held } from "../../src/timeline/held.js";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyDuration, anyTimeline, END, expectCanonical, gridInstants, RUNS, START, windowStates } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";

test("a bay occupied from 10 to 20 has been so for 3 from 13 to 20", () => {
  const bay = timelineOf(0, 30, [[0, OFF], [10, ON], [20, OFF]]);
  expect(held(bay, 3)).toEqual(timelineOf(0, 30, [[0, OFF], [13, ON], [20, OFF]]));
});

test("a stretch no longer than the duration never counts: the window is closed, the stretch open on the right", () => {
  const bay = timelineOf(0, 30, [[0, OFF], [10, ON], [13, OFF]]);
  expect(held(bay, 3)).toEqual(constantTimeline(0, 30, OFF));
});

test("an unknown stretch inside the window makes it unknown, not off", () => {
  const bay = timelineOf(0, 30, [[0, ON], [10, UNKNOWN], [12, ON]]);
  expect(held(bay, 3)).toEqual(timelineOf(0, 30, [[0, UNKNOWN], [3, ON], [10, UNKNOWN], [15, ON]]));
});

test("an off stretch settles it even where the rest of the window is unknown", () => {
  const bay = timelineOf(0, 30, [[0, OFF], [5, UNKNOWN], [6, ON]]);
  expect(held(bay, 4)).toEqual(timelineOf(0, 30, [[0, OFF], [9, UNKNOWN], [10, ON]]));
});

test("time before the start is unknown: nothing is held until the window lies inside", () => {
  expect(held(constantTimeline(0, 30, ON), 7)).toEqual(timelineOf(0, 30, [[7, ON]]));
  expect(held(constantTimeline(0, 30, ON), 30)).toEqual(constantTimeline(0, 30, UNKNOWN));
});

test("an endless duration means 'ever since': never on, and off for good after the first off", () => {
  expect(held(timelineOf(0, 30, [[0, ON], [8, OFF], [9, ON]]), Infinity)).toEqual(timelineOf(0, 30, [[8, OFF]]));
});

test("refuses a negative duration", () => {
  expect(() => held(constantTimeline(0, 1, ON), -1)).toThrow(new RangeError("A duration is 0 ms or more, not -1."));
  expect(() => held(constantTimeline(0, 1, ON), NaN)).toThrow(RangeError);
});

test("at every instant: off if off somewhere in [t − d, t], on if on throughout, else unknown", () => {
  fc.assert(
    fc.property(anyTimeline, anyDuration, (x, d) => {
      const result = held(x, d);
      expectCanonical(result);
      for (const t of gridInstants(START, END)) {
        const seen = windowStates(x, t, d);
        expect(stateAt(result, t)).toBe(seen.includes(OFF) ? OFF : seen.includes(UNKNOWN) ? UNKNOWN : ON);
      }
    }),
    RUNS,
  );
});

test("no duration is no change; d after e is d + e; 'all' may be taken before or after", () => {
  fc.assert(
    fc.property(anyTimeline, anyTimeline, anyDuration, anyDuration, (x, y, d, e) => {
      expect(held(x, 0)).toEqual(x);
      expect(held(held(x, e), d)).toEqual(held(x, d + e));
      expect(held(all([x, y]), d)).toEqual(all([held(x, d), held(y, d)]));
    }),
    RUNS,
  );
});

test("a longer duration is never easier: held longer implies held", () => {
  fc.assert(
    fc.property(anyTimeline, anyDuration, anyDuration, (x, d, more) => {
      const shorter = held(x, d);
      const longer = held(x, d + more);
      expect([...any([not(longer), shorter]).states]).not.toContain(OFF);
      for (const t of gridInstants(START, END)) {
        if (stateAt(longer, t) === ON) expect(stateAt(shorter, t)).toBe(ON);
        if (stateAt(shorter, t) === OFF) expect(stateAt(longer, t)).toBe(OFF);
      }
    }),
    RUNS,
  );
});
