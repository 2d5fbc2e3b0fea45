import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canonicalTimeline, timelineOf } from "../../src/timeline/make.js";
import { OFF, ON, UNKNOWN, type TruthState } from "../../src/timeline/timeline.js";
import { expectCanonical, gridInstants, RUNS } from "./brute-force.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { constantTimeline } from "./constant-timeline.js";

describe("timelineOf", () => {
  test("is unknown before the first step", () => {
    const x = timelineOf(0, 10, [[4, ON]]);
    expect([...x.times]).toEqual([0, 4]);
    expect([...x.states]).toEqual([UNKNOWN, ON]);
  });

  test("merges equal neighbours", () => {
    expect(timelineOf(0, 10, [[0, OFF], [2, ON], [3, ON], [5, OFF], [7, OFF]])).toEqual(timelineOf(0, 10, [[0, OFF], [2, ON], [5, OFF]]));
  });

  test("lets the last of several steps at one instant win, and merges what that leaves equal", () => {
    expect(timelineOf(0, 10, [[0, OFF], [2, ON], [2, OFF], [6, ON]])).toEqual(timelineOf(0, 10, [[0, OFF], [6, ON]]));
  });

  test("takes the state at the start from the last step before it", () => {
    expect(timelineOf(0, 10, [[-5, ON], [-1, OFF], [3, ON]])).toEqual(timelineOf(0, 10, [[0, OFF], [3, ON]]));
  });

  test("drops steps at or after the end", () => {
    expect(timelineOf(0, 10, [[0, OFF], [10, ON], [12, OFF]])).toEqual(constantTimeline(0, 10, OFF));
  });

  test("without steps is unknown throughout", () => {
    expect(timelineOf(0, 10, [])).toEqual(constantTimeline(0, 10, UNKNOWN));
  });

  test("refuses what is no timeline", () => {
    expect(() => timelineOf(10, 10, [])).toThrow(new RangeError("A timeline needs finite instants with start < end, not [10, 10)."));
    expect(() => timelineOf(0, Infinity, [])).toThrow(RangeError);
    expect(() => timelineOf(0, 10, [[5, ON], [4, OFF]])).toThrow(new RangeError("Steps must be in time order: 4 comes after 5."));
    expect(() => timelineOf(0, 10, [[NaN, ON]])).toThrow(RangeError);
    expect(() => timelineOf(0, 10, [[10, ON], [4, OFF]])).toThrow(RangeError);
    expect(() => canonicalTimeline(0, 10, [1], [3])).toThrow(new RangeError("A state is 0, 1 or 2, not 3."));
    expect(() => canonicalTimeline(0, 10, [1, 2], [0])).toThrow(new RangeError("Expected as many states as instants, got 2 instants and 1 states."));
  });
});

describe("canonicalTimeline", () => {
  const anySteps = fc
    .array(fc.tuple(fc.integer({ min: -5, max: 25 }), fc.constantFrom<TruthState>(OFF, ON, UNKNOWN)), { maxLength: 20 })
    .map((steps) => steps.sort((a, b) => a[0] - b[0]));

  test("agrees with 'the last step at or before the instant' everywhere", () => {
    fc.assert(
      fc.property(anySteps, (steps) => {
        const x = timelineOf(0, 20, steps);
        expectCanonical(x);
        for (const instant of gridInstants(0, 20)) {
          expect(stateAt(x, instant)).toBe(steps.findLast(([at]) => at <= instant)?.[1] ?? UNKNOWN);
        }
      }),
      RUNS,
    );
  });

  test("changes nothing on a timeline that is canonical already, and keeps no hold of what it was given", () => {
    fc.assert(
      fc.property(anySteps, (steps) => {
        const x = timelineOf(0, 20, steps);
        const again = canonicalTimeline(0, 20, x.times, x.states);
        expect(again).toEqual(x);
        expect(again.times.buffer).not.toBe(x.times.buffer);
      }),
      RUNS,
    );
  });
});
