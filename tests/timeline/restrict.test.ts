import fc from "fast-check";
import { expect, test } from "vitest";
import { atLeast } from "../../src/timeline/at-least.js";
import { collapse } from "../../src/timeline/collapse.js";
import { held } from "../../src/timeline/held.js";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { restrict } from "../../src/timeline/restrict.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyDuration, anyTimeline, END, expectCanonical, onGrid, RUNS, someTimelines, START } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";

const door = timelineOf(0, 20, [[0, OFF], [5, ON], [9, OFF], [15, ON]]);

test("shows the same states in a narrower window", () => {
  expect(restrict(door, 6, 15)).toEqual(timelineOf(6, 15, [[6, ON], [9, OFF]]));
});

test("through its own window it is itself", () => {
  expect(restrict(door, 0, 20)).toEqual(door);
});

test("beyond what was recorded nobody can tell", () => {
  expect(restrict(door, -5, 30)).toEqual(timelineOf(-5, 30, [[0, OFF], [5, ON], [9, OFF], [15, ON], [20, UNKNOWN]]));
  expect(restrict(door, 20, 30)).toEqual(constantTimeline(20, 30, UNKNOWN));
  expect(restrict(door, -9, 0)).toEqual(constantTimeline(-9, 0, UNKNOWN));
});

test("refuses an empty window", () => {
  expect(() => restrict(door, 6, 6)).toThrow(RangeError);
  expect(() => restrict(door, 40, 30)).toThrow(RangeError);
});

const anyWindow = fc
  .tuple(fc.integer({ min: START - 10, max: END + 10 }), fc.integer({ min: 1, max: 30 }))
  .map(([from, length]) => ({ from, to: from + length }));

test("every instant of the window keeps its state", () => {
  fc.assert(
    fc.property(anyTimeline, anyWindow, (x, { from, to }) => {
      const narrowed = restrict(x, from, to);
      expectCanonical(narrowed);
      expect(onGrid(narrowed)).toEqual(onGrid(x, from, to));
    }),
    RUNS,
  );
});

const windowInside = fc
  .tuple(fc.integer({ min: START, max: END - 1 }), fc.integer({ min: 1, max: END - START }))
  .map(([from, length]) => ({ from, to: Math.min(END, from + length) }));

test("it may be taken before or after whatever looks at one instant only", () => {
  fc.assert(
    fc.property(someTimelines, fc.integer({ min: 1, max: 4 }), windowInside, (xs, k, { from, to }) => {
      const narrow = xs.map((x) => restrict(x, from, to));
      expect(atLeast(k, narrow)).toEqual(restrict(atLeast(k, xs), from, to));
      expect(not(narrow[0]!)).toEqual(restrict(not(xs[0]!), from, to));
      expect(collapse(narrow[0]!)).toEqual(restrict(collapse(xs[0]!), from, to));
    }),
    RUNS,
  );
});

test("taken before 'held', it can only hide: what is still known agrees", () => {
  fc.assert(
    fc.property(anyTimeline, anyDuration, windowInside, (x, d, { from, to }) => {
      const hidden = onGrid(held(restrict(x, from, to), d));
      const whole = onGrid(restrict(held(x, d), from, to));
      expect(hidden.every((state, i) => state === UNKNOWN || state === whole[i])).toBe(true);
      // Once the window lies wholly inside, nothing is hidden any more.
      const settled = Math.min(hidden.length, 2 * d);
      expect(hidden.slice(settled)).toEqual(whole.slice(settled));
    }),
    RUNS,
  );
});
