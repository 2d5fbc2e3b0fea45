/**
 * What no failure at all shows.
 * - Rule of three, Hanley & Lippman-Hand (1983) JAMA 249:1743: no failure in n trials, 95 % one-sided upper bound about 3/n;
 *   their contrast-medium example 0/167, about 1.8 % (both from memory (M), the example weakly).
 * - The same in ISO/IEC 19795-1 as the "rule of 3", and 2/N for 90 % (M, text not seen).
 * - Exact bounds 1 − 0.05^(1/n): recomputed (R).
 * - 59 is the smallest n with 1 − 0.95^n ≥ 0.95: the size of a zero-failure demonstration of 95 % at 95 % (R).
 */
import { describe, expect, test } from "vitest";
import { rateUpperAtEveryLook, trialsNeededAtEveryLook } from "../../src/statistics/every-look.js";
import { rateUpperBound } from "../../src/statistics/rate.js";
import { shareUpperBound } from "../../src/statistics/share.js";

describe("no failure in n trials", () => {
  test.each([[10, 0.258866], [20, 0.139108], [30, 0.095034], [50, 0.058155], [100, 0.029513], [300, 0.009936], [1000, 0.002991]])("n = %i: at most %f", (n, published) => {
    expect(shareUpperBound(0, n, 0.95)).toBeCloseTo(published, 6);
  });

  test.each([30, 50, 100, 300, 1000])("n = %i: about 3/n, and never above it", (n) => {
    expect(shareUpperBound(0, n, 0.95)).toBeLessThan(3 / n);
    expect(shareUpperBound(0, n, 0.95)).toBeGreaterThan((3 / n) * 0.95);
    expect(rateUpperBound(0, n, 0.95) * n).toBeCloseTo(2.9957, 4);
  });

  test("0 of 167: about 1.8 %", () => {
    expect(shareUpperBound(0, 167, 0.95)).toBeCloseTo(0.018, 3);
  });

  test("90 %: 0 of 100 at most 0.022763, about 2/N", () => {
    expect(shareUpperBound(0, 100, 0.9)).toBeCloseTo(0.022763, 6);
  });
});

describe("a demonstration without a failure", () => {
  test("95 % at 95 % takes 59 at a single look", () => {
    expect(shareUpperBound(0, 59, 0.95)).toBeLessThanOrEqual(0.05);
    expect(shareUpperBound(0, 58, 0.95)).toBeGreaterThan(0.05);
    expect(1 - 0.95 ** 59).toBeGreaterThanOrEqual(0.95);
    expect(1 - 0.95 ** 58).toBeLessThan(0.95);
  });

  test("a limit of wrong unlocks a year takes 2.9957 / limit years (R): 6 years for one in two", () => {
    expect(rateUpperBound(0, 1, 0.95) / 0.5).toBeCloseTo(5.9915, 4);
  });

  test("looked at again and again it takes more: 3.8423 / limit years, and 76 trials", () => {
    expect(rateUpperAtEveryLook(0, 3.8423 / 0.5, 0.95)).toBeCloseTo(0.5, 4);
    expect(trialsNeededAtEveryLook(0, 0, 0.05, 0.95)).toBe(75);
  });
});
