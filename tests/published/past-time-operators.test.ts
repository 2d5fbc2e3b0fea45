/**
 * The past-time operators *once* and *historically* against the worked example of nickovic/rtamt's discrete offline operator
 * test (S; a library's test, not from the papers). It works on numbers, robustness: the operators are running maxima and minima,
 * and the sign says whether the condition holds. Thresholded at 0 (no value there is 0) that gives truth values:
 * *once* is our `recently`, *historically* our `held`, one sample a unit of time.
 *
 * One difference: there, time before the first sample does not exist; here it is unknown. So the two are compared where
 * the window lies wholly after the start; before, ours must be that answer or unknown, never its opposite.
 * The library's *since* is not ours.
 */
import { describe, expect, test } from "vitest";
import { held } from "../../src/timeline/held.js";
import { timelineOf } from "../../src/timeline/make.js";
import { recently } from "../../src/timeline/recently.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../src/timeline/timeline.js";

const left = [100, -1, -2, 5, -1];
const bySign = (robustness: readonly number[]): TruthState[] => robustness.map((value) => (value > 0 ? ON : OFF));
const truth = bySign(left);
const samples = truth.map((_, i) => i);

/**
 * The samples as a timeline: sample i holds on [i, i + 1). A sampled window [i − 1, i] sees samples i − 1 and i; so does the closed
 * window [t − 1, t] at the instant t = i, where the cell of sample i has just begun.
 */
const timeline = timelineOf(0, truth.length, truth.map((state, i) => [i, state] as const));
const atSamples = (x: Timeline): TruthState[] => samples.map((i) => stateAt(x, i));

describe("bounded to [0, 1]", () => {
  test("once: [100, 100, −1, 5, 5]", () => {
    const published = bySign([100, 100, -1, 5, 5]);
    const ours = atSamples(recently(timeline, 1));
    expect(ours.slice(1)).toEqual(published.slice(1));
    // The first window reaches before the start; being on now settles it all the same.
    expect(ours[0]).toBe(published[0]);
  });

  test("historically: [100, −1, −2, −2, −1]", () => {
    const published = bySign([100, -1, -2, -2, -1]);
    const ours = atSamples(held(timeline, 1));
    expect(ours.slice(1)).toEqual(published.slice(1));
    // There: true, since nothing came before. Here: nobody saw what came before.
    expect(published[0]).toBe(ON);
    expect(ours[0]).toBe(UNKNOWN);
  });
});

describe("unbounded, as far back as the start", () => {
  test("once: [100, 100, 100, 100, 100]", () => {
    const published = bySign([100, 100, 100, 100, 100]);
    expect(samples.map((i) => stateAt(recently(timeline, i), i))).toEqual(published);
  });

  test("historically: [100, −1, −2, −2, −2]", () => {
    const published = bySign([100, -1, -2, -2, -2]);
    // At sample i the longest window that lies wholly after the start is [0, i].
    expect(samples.map((i) => stateAt(held(timeline, i), i))).toEqual(published);
  });

  test("with an endless window only the unknown past differs", () => {
    expect(atSamples(recently(timeline, Infinity))).toEqual(bySign([100, 100, 100, 100, 100]));
    expect(atSamples(held(timeline, Infinity))).toEqual([UNKNOWN, OFF, OFF, OFF, OFF]);
  });
});

describe("dense time: piecewise-constant [0, 4], [5, 2], [10, 5], [15, 3], once over [0, 1]", () => {
  // Published (interpreter test): [0, 4], [6, 2], [10, 5], [16, 3]. Its operator test ends otherwise, [15, 5]: the end of the
  // trace is read differently inside one library, so only what lies before the last step is compared, at each threshold.
  const signal = [[0, 4], [5, 2], [10, 5], [15, 3]] as const;
  const published = [[0, 4], [6, 2], [10, 5]] as const;
  const above = (threshold: number, steps: readonly (readonly [number, number])[]): Timeline =>
    timelineOf(0, 15, steps.map(([instant, value]) => [instant, value > threshold ? ON : OFF] as const));

  test.each([1, 2, 3, 4, 5])("the value above %i", (threshold) => {
    const ours = recently(above(threshold, signal), 1);
    const theirs = above(threshold, published);
    for (let instant = 1; instant < 15; instant += 0.25) expect(stateAt(ours, instant)).toBe(stateAt(theirs, instant));
  });
});
