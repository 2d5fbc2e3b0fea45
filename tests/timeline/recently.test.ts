import fc from "fast-check";
import { expect, test } from "vitest";
import { any } from "../../src/timeline/any.js";
import { held } from "../../src/timeline/held.js";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { recently } from "../../src/timeline/recently.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyDuration, anyTimeline, END, expectCanonical, gridInstants, RUNS, START, windowStates } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";

test("a door open from 10 to 12 was open recently, within 5, from 10 to 17", () => {
  const door = timelineOf(0, 30, [[0, OFF], [10, ON], [12, OFF]]);
  expect(recently(door, 5)).toEqual(timelineOf(0, 30, [[0, UNKNOWN], [5, OFF], [10, ON], [17, OFF]]));
});

test("an unknown stretch may hide an opening: unknown until the window has left it behind", () => {
  const door = timelineOf(0, 30, [[0, OFF], [10, UNKNOWN], [12, OFF]]);
  expect(recently(door, 5)).toEqual(timelineOf(0, 30, [[0, UNKNOWN], [5, OFF], [10, UNKNOWN], [17, OFF]]));
});

test("refuses a negative duration", () => {
  expect(() => recently(constantTimeline(0, 1, ON), -1)).toThrow(RangeError);
});

test("at every instant: on if on somewhere in [t − d, t], off if off throughout, else unknown", () => {
  fc.assert(
    fc.property(anyTimeline, anyDuration, (x, d) => {
      const result = recently(x, d);
      expectCanonical(result);
      for (const t of gridInstants(START, END)) {
        const seen = windowStates(x, t, d);
        expect(stateAt(result, t)).toBe(seen.includes(ON) ? ON : seen.includes(UNKNOWN) ? UNKNOWN : OFF);
      }
    }),
    RUNS,
  );
});

test("it is the dual of held; no duration is no change; 'any' may be taken before or after", () => {
  fc.assert(
    fc.property(anyTimeline, anyTimeline, anyDuration, (x, y, d) => {
      expect(not(recently(not(x), d))).toEqual(held(x, d));
      expect(recently(x, 0)).toEqual(x);
      expect(recently(any([x, y]), d)).toEqual(any([recently(x, d), recently(y, d)]));
    }),
    RUNS,
  );
});

test("a longer look back is never harder: recently implies recently within longer", () => {
  fc.assert(
    fc.property(anyTimeline, anyDuration, anyDuration, (x, d, more) => {
      const shorter = recently(x, d);
      const longer = recently(x, d + more);
      for (const t of gridInstants(START, END)) {
        if (stateAt(shorter, t) === ON) expect(stateAt(longer, t)).toBe(ON);
        if (stateAt(longer, t) === OFF) expect(stateAt(shorter, t)).toBe(OFF);
      }
    }),
    RUNS,
  );
});
