import fc from "fast-check";
import { expect, test } from "vitest";
import { difference, during, holding, intersection, type Interval, shrunk, totalMs, union } from "../../src/ground/intervals.js";

const END = 40;
const interval = fc.tuple(fc.integer({ min: 0, max: END }), fc.integer({ min: 0, max: END })).map(([a, b]): Interval => ({ from: Math.min(a, b), to: Math.max(a, b) }));
const list = fc.array(interval, { maxLength: 8 });

/** The brute-force twin: which whole instants are in. */
const grid = (intervals: readonly Interval[]): boolean[] => Array.from({ length: END }, (_, at) => intervals.some(({ from, to }) => from <= at && at < to));
const tidy = (intervals: readonly Interval[]): boolean => intervals.every(({ from, to }, i) => from < to && (i === 0 || intervals[i - 1]!.to < from));

test("union, intersection and difference agree with the grid", () => {
  fc.assert(
    fc.property(list, list, (a, b) => {
      expect(grid(union(a))).toEqual(grid(a));
      expect(tidy(union(a))).toBe(true);
      expect(grid(intersection(union(a), union(b)))).toEqual(grid(a).map((inside, at) => inside && grid(b)[at]!));
      expect(grid(difference(union(a), b))).toEqual(grid(a).map((inside, at) => inside && !grid(b)[at]!));
      expect(totalMs(union(a))).toBe(grid(a).filter(Boolean).length);
    }),
  );
});

test("the interval that holds an instant is found, or null", () => {
  fc.assert(
    fc.property(list, fc.integer({ min: -1, max: END }), (a, at) => {
      const disjoint = union(a);
      expect(holding(disjoint, at)).toEqual(disjoint.find(({ from, to }) => from <= at && at < to) ?? null);
    }),
  );
});

test("shrinking takes from both ends and drops what is too short", () => {
  expect(shrunk([{ from: 0, to: 10 }, { from: 20, to: 24 }], 2)).toEqual([{ from: 2, to: 8 }]);
});

test("the intervals that have time in common with another are found, whole", () => {
  fc.assert(
    fc.property(list, interval, (a, { from, to }) => {
      const disjoint = union(a);
      expect(during(disjoint, from, to)).toEqual(disjoint.filter((one) => one.from < to && one.to > from));
    }),
  );
});
