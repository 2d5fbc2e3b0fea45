/** Check values: worked out by the authors of the method apart from this program, to the digits given. */
import { expect, test } from "vitest";
import { rateUpperBound } from "../../src/statistics/rate.js";
import { weightedUpperBound } from "../../src/statistics/weighted-counts.js";

const weighing = (weights: readonly number[], largestNext: number) => ({
  total: weights.reduce((sum, one) => sum + one, 0),
  squares: weights.reduce((sum, one) => sum + one * one, 0),
  largestNext,
});

test("events that count for 1, 2 and 3, with another of 3 to come", () => {
  expect(weightedUpperBound(weighing([1, 2, 3], 3), 0.95)).toBeCloseTo(18.0556, 4);
  expect(weightedUpperBound(weighing([1, 2, 3], 3), 0.975)).toBeCloseTo(20.5463, 4);
});

test("equal weights give the exact bound of a count, times the weight", () => {
  expect(weightedUpperBound(weighing([2, 2, 2], 2), 0.95)).toBeCloseTo(2 * rateUpperBound(3, 1, 0.95), 6);
  expect(weightedUpperBound(weighing([], 2), 0.95)).toBeCloseTo(5.9915, 4);
});

test("nothing seen and nothing to come is nothing", () => {
  expect(weightedUpperBound(weighing([], 0), 0.95)).toBe(0);
});
