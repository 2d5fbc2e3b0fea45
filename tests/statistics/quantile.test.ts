import fc from "fast-check";
import { expect, test } from "vitest";
import { quantileEstimate } from "../../src/statistics/quantile.js";

const lags = [4, 9, 2, 7, 1, 10, 3, 8, 5, 6];

test("the median of ten lags lies between the 2nd and the 9th of them", () => {
  expect(quantileEstimate(lags, 0.5, 0.95, "seconds")).toEqual({ value: 5.5, low: 2, high: 9, count: 10, unit: "seconds", why: null });
});

test("too few values for a limit: null, and why", () => {
  expect(quantileEstimate(lags, 0.9, 0.95, "seconds")).toEqual({
    value: 9.5,
    low: 7,
    high: null,
    count: 10,
    unit: "seconds",
    why: "too few values (10) for the upper limit",
  });
  expect(quantileEstimate([3, 1], 0.5, 0.95, "seconds")).toMatchObject({ value: 2, low: null, high: null, why: "too few values (2) for the lower and upper limit" });
});

test("no values, no quantile", () => {
  expect(quantileEstimate([], 0.5, 0.95, "seconds")).toEqual({ value: null, low: null, high: null, count: 0, unit: "seconds", why: "there are no values" });
});

test("one value is every quantile of itself", () => {
  expect([0.01, 0.5, 0.95].map((p) => quantileEstimate([7], p, 0.95, "seconds").value)).toEqual([7, 7, 7]);
});

test("leaves its values as they were, in any order, negative ones too", () => {
  const values = Object.freeze([30, -5, 2, -11, 100]);
  expect(quantileEstimate(values, 0.5, 0.9, "seconds").value).toBe(2);
  expect(values).toEqual([30, -5, 2, -11, 100]);
});

test("the value cuts the sample: at most a share p lies strictly below it, at least p at or below", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 60 }), fc.constantFrom(0.05, 0.1, 0.25, 0.5, 0.7, 0.9, 0.95), (values, p) => {
      const { value, low, high } = quantileEstimate(values, p, 0.95, "seconds");
      const share = (holds: (one: number) => boolean): number => values.filter(holds).length / values.length;
      expect(share((one) => one < value!)).toBeLessThanOrEqual(p + 1e-9);
      expect(share((one) => one <= value!)).toBeGreaterThanOrEqual(p - 1e-9);
      if (low !== null) expect(low).toBeLessThanOrEqual(value!);
      if (high !== null) expect(high).toBeGreaterThanOrEqual(value!);
    }),
    { numRuns: 500 },
  );
});

test("refuses what is not finite, and quantiles at or beyond the ends", () => {
  expect(() => quantileEstimate([1, NaN], 0.5, 0.95, "seconds")).toThrow(new RangeError("A quantile needs finite values, not NaN."));
  expect(() => quantileEstimate([1, 2], 1, 0.95, "seconds")).toThrow(new RangeError("A quantile lies strictly between 0 and 1, not 1."));
  expect(() => quantileEstimate([1, 2], 0.5, 1, "seconds")).toThrow(RangeError);
});
