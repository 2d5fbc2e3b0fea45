/**
 * Distribution-free intervals for a quantile between order statistics.
 * - Conover (1971), n = 16, upper quartile, ranks 9 and 15: coverage .9365 − .0271 = .9094 is (M), from memory; more decimals (R).
 * - Ranks for the median at 0.95 with equal tails: (R), matching standard tables as remembered (M).
 */
import { expect, test } from "vitest";
import { binomialCdf } from "../../src/statistics/distributions.js";
import { quantileEstimate } from "../../src/statistics/quantile.js";
import { quantileRanks } from "../../src/statistics/quantile-ranks.js";

/** P(lower ≤ X ≤ upper − 1) for X binomial: the chance that the `p`-quantile lies between the two order statistics. */
function rankCoverage(count: number, p: number, lower: number, upper: number): number {
  return binomialCdf(upper - 1, count, p) - binomialCdf(lower - 1, count, p);
}

test("Conover: of 16 values the upper quartile lies between the 9th and the 15th with probability .9094 (M), .9093936 (R)", () => {
  expect(rankCoverage(16, 0.75, 9, 15).toFixed(4)).toBe("0.9094");
  expect(rankCoverage(16, 0.75, 9, 15)).toBeCloseTo(0.9365236 - 0.02713, 7);
});

test("ours, with at most .05 in each tail, takes the 16th there: Conover's upper tail holds .0635", () => {
  expect(quantileRanks(16, 0.75, 0.9)).toEqual({ lower: 9, upper: 16 });
});

test.each([
  [9, 2, 8, 0.960938],
  [10, 2, 9, 0.978516],
  [15, 4, 12, 0.964844],
  [20, 6, 15, 0.958611],
  [30, 10, 21, 0.957226],
  [50, 18, 33, 0.967161],
  [100, 40, 61, 0.9648],
])("median of %i values: ranks %i and %i, coverage %f (R; ranks M)", (count, lower, upper, coverage) => {
  expect(quantileRanks(count, 0.5, 0.95)).toEqual({ lower, upper });
  expect(rankCoverage(count, 0.5, lower, upper)).toBeCloseTo(coverage, 6);
});

test("0.9-quantile of 100 values: ranks 84 and 96, coverage .955690 (R)", () => {
  expect(quantileRanks(100, 0.9, 0.95)).toEqual({ lower: 84, upper: 96 });
  expect(rankCoverage(100, 0.9, 84, 96)).toBeCloseTo(0.95569, 6);
});

test("0.95-quantile of 59 values: the upper rank would be the 60th of 59, so there is no upper limit (R)", () => {
  expect(quantileRanks(59, 0.95, 0.95).upper).toBeNull();
  const values = Array.from({ length: 59 }, (_, i) => i + 1);
  expect(quantileEstimate(values, 0.95, 0.95, "seconds")).toMatchObject({ high: null, why: "too few values (59) for the upper limit" });
});

test("one-sided, 59 is the smallest number of values whose largest bounds the 0.95-quantile at 0.95 (R)", () => {
  // One tail of 0.05 is one side of an equal-tailed interval at 0.90.
  expect(quantileRanks(59, 0.95, 0.9).upper).toBe(59);
  expect(quantileRanks(58, 0.95, 0.9).upper).toBeNull();
});
