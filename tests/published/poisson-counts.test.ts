/**
 * Exact limits of a Poisson count and what no events at all can show.
 * - Garwood (1936): the chi-square form is (S), named in a public source comment; the values are (R), recomputed with R 4.2.2.
 *   The printed table was not seen.
 * - "Rule of three": Hanley & Lippman-Hand (1983), JAMA 249:1743, (M) from memory; the exact values beside it (R).
 *   Their example of 0 in 167 → about 1.8% is (M), weakly remembered.
 * - 30 errors, 90%: ISO/IEC 19795-1's rule of 30 is (M); the exact interval beside it (R).
 */
import { describe, expect, test } from "vitest";
import { rateEstimate, rateUpperBound } from "../../src/statistics/rate.js";
import { shareEstimate, shareUpperBound } from "../../src/statistics/share.js";

test.each([
  [0, 0, 3.6889, 2.9957],
  [1, 0.0253, 5.5716, 4.7439],
  [2, 0.2422, 7.2247, 6.2958],
  [3, 0.6187, 8.7673, 7.7537],
  [4, 1.0899, 10.2416, 9.1535],
  [5, 1.6235, 11.6683, 10.513],
  [6, 2.2019, 13.0595, 11.8424],
  [7, 2.8144, 14.4227, 13.1481],
  [8, 3.4538, 15.7632, 14.4346],
  [9, 4.1154, 17.0848, 15.7052],
  [10, 4.7954, 18.3904, 16.9622],
])("Garwood, count %i: %f to %f two-sided, at most %f one-sided, at 0.95 (R)", (count, lowest, highest, oneSided) => {
  const { value, low, high } = rateEstimate(count, 1, 0.95, "per year");
  expect(value).toBe(count);
  expect(low).toBeCloseTo(lowest, 4);
  expect(high).toBeCloseTo(highest, 4);
  expect(rateUpperBound(count, 1, 0.95)).toBeCloseTo(oneSided, 4);
});

describe("the rule of three", () => {
  test.each([
    [10, 0.258866],
    [20, 0.139108],
    [30, 0.095034],
    [50, 0.058155],
    [100, 0.029513],
    [300, 0.009936],
    [1000, 0.002991],
  ])("0 of %i: at most %f, exactly, one-sided at 0.95 (R)", (trials, bound) => {
    expect(shareUpperBound(0, trials, 0.95)).toBeCloseTo(bound, 6);
  });

  test("3/n comes close for large n, always from the careful side (M)", () => {
    for (const trials of [30, 100, 300, 1000]) {
      expect(3 / trials).toBeGreaterThan(shareUpperBound(0, trials, 0.95));
      expect(3 / trials / shareUpperBound(0, trials, 0.95)).toBeLessThan(1.06);
    }
    expect(rateUpperBound(0, 1, 0.95)).toBeCloseTo(2.9957, 4);
  });

  test("0 in 167: about 1.8% (M)", () => {
    expect(shareUpperBound(0, 167, 0.95)).toBeCloseTo(0.018, 3);
  });

  test("the trap: the two-sided upper limit of 0 of 20 is .1684, not .1391 (R)", () => {
    expect(shareEstimate(0, 20, 0.95).high).toBeCloseTo(0.1684, 4);
    expect(shareUpperBound(0, 20, 0.95)).toBeCloseTo(0.1391, 4);
    expect(rateEstimate(0, 1, 0.95, "per year").high).toBeCloseTo(3.6889, 4);
  });
});

test("59 is the smallest number of faultless trials that shows at most 0.05 at 0.95 (R)", () => {
  expect(0.95 ** 59).toBeLessThanOrEqual(0.05);
  expect(0.95 ** 58).toBeGreaterThan(0.05);
  expect(shareUpperBound(0, 59, 0.95)).toBeLessThanOrEqual(0.05);
  expect(shareUpperBound(0, 58, 0.95)).toBeGreaterThan(0.05);
});

test("0 of 100 at 0.90: at most .022763; the '2/n at 90%' of ISO/IEC 19795-1 (M) is a little short of it (R)", () => {
  expect(shareUpperBound(0, 100, 0.9)).toBeCloseTo(0.022763, 6);
  expect(2 / 100).toBeLessThan(shareUpperBound(0, 100, 0.9));
});

test("30 errors at 0.90: the exact interval is .7198 to 1.3564 of what was seen (R), so the rule's ±30% (M) is an approximation", () => {
  const { low, high } = rateEstimate(30, 30, 0.9, "of what was seen");
  expect(low).toBeCloseTo(0.7198, 4);
  expect(high).toBeCloseTo(1.3564, 4);
});
