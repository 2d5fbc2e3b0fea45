import fc from "fast-check";
import { expect, test } from "vitest";
import { quantileRanks } from "../../src/statistics/quantile-ranks.js";

/** P(X = k) for X binomial, by multiplication along the row. */
function binomialRow(count: number, p: number): number[] {
  const row = [1];
  for (let n = 0; n < count; n += 1) {
    row.push(0);
    for (let k = row.length - 1; k >= 0; k -= 1) row[k] = row[k]! * (1 - p) + (k > 0 ? row[k - 1]! * p : 0);
  }
  return row;
}

const sum = (numbers: readonly number[]): number => numbers.reduce((total, number) => total + number, 0);

test("are the closest that leave at most half the doubt in each tail", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 80 }), fc.double({ min: 0.02, max: 0.98, noNaN: true }), fc.constantFrom(0.8, 0.9, 0.95, 0.99), (count, p, confidence) => {
      const row = binomialRow(count, p);
      const tail = (1 - confidence) / 2;
      const below = (rank: number): number => sum(row.slice(0, rank));
      const above = (rank: number): number => sum(row.slice(rank));
      const ranks = Array.from({ length: count }, (_, i) => i + 1);
      const { lower, upper } = quantileRanks(count, p, confidence);
      expect(lower).toBe(ranks.findLast((rank) => below(rank) <= tail) ?? null);
      expect(upper).toBe(ranks.find((rank) => above(rank) <= tail) ?? null);
      if (lower !== null && upper !== null) {
        expect(sum(row.slice(lower, upper))).toBeGreaterThanOrEqual(confidence - 1e-9);
      }
    }),
    { numRuns: 300 },
  );
});

test("a tail that holds exactly half the doubt is small enough", () => {
  expect(quantileRanks(2, 0.5, 0.5)).toEqual({ lower: 1, upper: 2 });
});

test("none without values", () => {
  expect(quantileRanks(0, 0.5, 0.95)).toEqual({ lower: null, upper: null });
});

test("refuses numbers of values and quantiles that are none", () => {
  expect(() => quantileRanks(2.5, 0.5, 0.95)).toThrow(new RangeError("A number of values must be a whole number of 0 or more, not 2.5."));
  expect(() => quantileRanks(10, 0, 0.95)).toThrow(new RangeError("A quantile lies strictly between 0 and 1, not 0."));
  expect(() => quantileRanks(10, 0.5, 1)).toThrow(new RangeError("A confidence lies between 0 and 1, not 1."));
});
