import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rateEstimate, rateLowerBound, rateUpperBound } from "../../src/statistics/rate.js";

const anyCount = fc.integer({ min: 0, max: 200 });
const anyExposure = fc.double({ min: 0.01, max: 1000, noNaN: true });
const anyConfidence = fc.double({ min: 0.5, max: 0.999, noNaN: true });

/** P(X ≤ count) for a Poisson mean, term by term. */
function poissonCdf(count: number, mean: number): number {
  let term = Math.exp(-mean);
  let sum = term;
  for (let k = 1; k <= count; k += 1) {
    term *= mean / k;
    sum += term;
  }
  return sum;
}

describe("rateEstimate", () => {
  test("over no time has no value, and says why", () => {
    expect(rateEstimate(0, 0, 0.95, "per year")).toEqual({ value: null, low: null, high: null, count: 0, hits: 0, exposure: 0, unit: "per year", why: "no time was observed" });
  });

  test("no event in a quarter of a year still allows many a year", () => {
    const { value, low, high, unit } = rateEstimate(0, 0.25, 0.95, "per year");
    expect([value, low, unit]).toEqual([0, 0, "per year"]);
    expect(high).toBeCloseTo(4 * -Math.log(0.025), 10);
  });

  test("its limits are the rates at which so many, or so few, would be just too unlikely", () => {
    fc.assert(
      fc.property(anyCount, anyExposure, anyConfidence, (count, exposure, confidence) => {
        const { low, high } = rateEstimate(count, exposure, confidence, "per day");
        const tail = (1 - confidence) / 2;
        expect(poissonCdf(count, high! * exposure)).toBeCloseTo(tail, 8);
        if (count > 0) expect(1 - poissonCdf(count - 1, low! * exposure)).toBeCloseTo(tail, 8);
      }),
    );
  });

  test("holds its value, and twice the events in twice the time say the same more surely", () => {
    fc.assert(
      fc.property(anyCount, anyExposure, anyConfidence, (count, exposure, confidence) => {
        const once = rateEstimate(count, exposure, confidence, "per day");
        const twice = rateEstimate(2 * count, 2 * exposure, confidence, "per day");
        expect(once.low).toBeLessThanOrEqual(once.value!);
        expect(once.high).toBeGreaterThanOrEqual(once.value!);
        expect(twice.value).toBeCloseTo(once.value!, 10);
        expect(twice.high! - twice.low!).toBeLessThan(once.high! - once.low!);
      }),
    );
  });

  test("covers the true rate at least as often as it promises (summed over outcomes, not sampled)", () => {
    const intervals = Array.from({ length: 60 }, (_, count) => rateEstimate(count, 1, 0.95, "each"));
    for (let truth = 0.1; truth < 20; truth += 0.1) {
      const covered = intervals.reduce((sum, { low, high }, count) => {
        const chance = poissonCdf(count, truth) - (count === 0 ? 0 : poissonCdf(count - 1, truth));
        return low! <= truth && truth <= high! ? sum + chance : sum;
      }, 0);
      expect(covered).toBeGreaterThanOrEqual(0.95 - 1e-9);
    }
  });
});

describe("one-sided bounds", () => {
  test("over no time bound nothing", () => {
    expect([rateLowerBound(0, 0, 0.95), rateUpperBound(0, 0, 0.95)]).toEqual([0, Infinity]);
  });

  test("are tighter than the two-sided limits at the same confidence, and scale with the exposure", () => {
    fc.assert(
      fc.property(anyCount, anyExposure, anyConfidence, (count, exposure, confidence) => {
        const { low, high } = rateEstimate(count, exposure, confidence, "per day");
        expect(rateUpperBound(count, exposure, confidence)).toBeLessThanOrEqual(high!);
        expect(rateLowerBound(count, exposure, confidence)).toBeGreaterThanOrEqual(low!);
        expect(rateUpperBound(count, exposure, confidence) * exposure).toBeCloseTo(rateUpperBound(count, 1, confidence), 8);
      }),
    );
  });
});

test("refuses counts, exposures and confidences that make no sense", () => {
  expect(() => rateEstimate(1.5, 1, 0.95, "per day")).toThrow(new RangeError("A count of events must be a whole number of 0 or more, not 1.5."));
  expect(() => rateEstimate(1, -1, 0.95, "per day")).toThrow(new RangeError("The exposure must be a finite number of 0 or more, not -1."));
  expect(() => rateUpperBound(1, Infinity, 0.95)).toThrow(new RangeError("The exposure must be a finite number of 0 or more, not Infinity."));
  expect(() => rateUpperBound(-0.5, 1, 0.95)).toThrow(new RangeError("A count of events must be a finite number of 0 or more, not -0.5."));
  expect(() => rateLowerBound(1, 1, 0)).toThrow(new RangeError("A confidence lies between 0 and 1, not 0."));
});
