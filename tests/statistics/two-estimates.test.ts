import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pooledEstimate, twoEstimatesPValue } from "../../src/statistics/two-estimates.js";

const normal = (value: number, error: number): { value: number; low: number; high: number } => ({ value, low: value - 1.959964 * error, high: value + 1.959964 * error });

describe("two estimates compared", () => {
  it.each([
    // z and its two-sided p: quantiles that every table of the normal distribution has.
    [1.959964, 0.05],
    [2.575829, 0.01],
    [3.290527, 0.001],
  ])("differ by %f errors: p = %f", (z, p) => {
    expect(twoEstimatesPValue(normal(0, Math.SQRT1_2), normal(z, Math.SQRT1_2), 0.95, 0)).toBeCloseTo(p, 6);
  });

  it("take no error for smaller than the least: an interval without length proves nothing", () => {
    const exact = { value: 0, low: 0, high: 0 };
    expect(twoEstimatesPValue(exact, { value: 0.1, low: 0.1, high: 0.1 }, 0.95, 0.1)).toBeGreaterThan(0.4);
  });

  it("need both values and all limits", () => {
    const whole = normal(0, 1);
    for (const missing of [{ value: null }, { low: null }, { high: null }]) {
      expect(twoEstimatesPValue(whole, { ...whole, ...missing }, 0.95, 0)).toBeNull();
      expect(twoEstimatesPValue({ ...whole, ...missing }, whole, 0.95, 0)).toBeNull();
      expect(pooledEstimate([{ ...whole, ...missing }], 0.95, 0)).toBeNull();
    }
  });

  it("do not differ when they are equal, and beyond all doubt when they lie a hundred errors apart", () => {
    expect(twoEstimatesPValue(normal(3, 1), normal(3, 2), 0.95, 0)).toBe(1);
    expect(twoEstimatesPValue(normal(0, 1), normal(100, 1), 0.95, 0)).toBeLessThan(1e-15);
  });

  it("pool with no error smaller than the least: two without length weigh the same", () => {
    const pooled = pooledEstimate([{ value: 1, low: 1, high: 1 }, { value: 3, low: 3, high: 3 }], 0.95, 0.5)!;
    expect(pooled.value).toBeCloseTo(2, 12);
    expect(pooled.high! - 2).toBeCloseTo((1.959964 * 0.5) / Math.SQRT2, 6);
    expect(2 - pooled.low!).toBeCloseTo((1.959964 * 0.5) / Math.SQRT2, 6);
  });

  it("pool to where the more certain lies, more certain than either, and one by itself to itself", () => {
    fc.assert(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), fc.double({ min: 0.01, max: 3, noNaN: true }), fc.double({ min: -5, max: 5, noNaN: true }), fc.double({ min: 0.01, max: 3, noNaN: true }), (a, ea, b, eb) => {
        const both = pooledEstimate([normal(a, ea), normal(b, eb)], 0.95, 0)!;
        expect(both.value).toBeCloseTo((a / ea ** 2 + b / eb ** 2) / (1 / ea ** 2 + 1 / eb ** 2), 6);
        expect(both.high! - both.low!).toBeLessThan(2 * 1.96 * Math.min(ea, eb) + 1e-9);
        expect(pooledEstimate([normal(a, ea)], 0.95, 0)!.low).toBeCloseTo(a - 1.959964 * ea, 5);
      }),
      { numRuns: 100 },
    );
    expect(pooledEstimate([], 0.95, 0)).toBeNull();
  });
});
