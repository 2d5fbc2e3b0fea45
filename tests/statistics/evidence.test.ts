import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { exposureNeeded, trialsNeeded } from "../../src/statistics/evidence.js";
import { rateUpperBound } from "../../src/statistics/rate.js";
import { shareUpperBound } from "../../src/statistics/share.js";

const anyConfidence = fc.double({ min: 0.5, max: 0.999, noNaN: true });

describe("exposureNeeded", () => {
  test("half a wrong unlock a year, none seen: six faultless years at 0.95", () => {
    expect(exposureNeeded(0, 0.5, 0.95)).toBeCloseTo(5.99146, 5);
  });

  test("is the exposure at which the upper bound meets the limit, and grows with every event", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 50 }), fc.double({ min: 0.01, max: 100, noNaN: true }), anyConfidence, (count, limit, confidence) => {
        const needed = exposureNeeded(count, limit, confidence);
        expect(rateUpperBound(count, needed, confidence) / limit).toBeCloseTo(1, 9);
        expect(exposureNeeded(count + 1, limit, confidence)).toBeGreaterThan(needed);
      }),
    );
  });

  test("no amount of watching proves 'never'", () => {
    expect(exposureNeeded(0, 0, 0.95)).toBe(Infinity);
  });

  test("refuses a limit that is none", () => {
    expect(() => exposureNeeded(0, -1, 0.95)).toThrow(new RangeError("A limit is 0 or more, not -1."));
    expect(() => exposureNeeded(0, NaN, 0.95)).toThrow(RangeError);
  });
});

describe("trialsNeeded", () => {
  test("59 faultless arrivals show at most 5 in a hundred at 0.95; 20 of them leave 39 to go", () => {
    expect(trialsNeeded(0, 0, 0.05, 0.95)).toBe(59);
    expect(trialsNeeded(0, 20, 0.05, 0.95)).toBe(39);
  });

  test("enough is enough", () => {
    expect(trialsNeeded(0, 59, 0.05, 0.95)).toBe(0);
    expect(trialsNeeded(5, 5, 1, 0.95)).toBe(0);
  });

  test("no number shows 'never', nor what would take more than a billion", () => {
    expect(trialsNeeded(0, 0, 0, 0.95)).toBeNull();
    expect(trialsNeeded(0, 0, 1e-12, 0.95)).toBeNull();
  });

  test("so many are enough for the bound, and one fewer is not", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 10 }),
        fc.integer({ min: 0, max: 200 }),
        fc.double({ min: 0.005, max: 0.9, noNaN: true }),
        anyConfidence,
        (failures, others, limit, confidence) => {
          const trials = failures + others;
          const further = trialsNeeded(failures, trials, limit, confidence)!;
          expect(shareUpperBound(failures, trials + further, confidence)).toBeLessThanOrEqual(limit + 1e-9);
          if (further > 0) expect(shareUpperBound(failures, trials + further - 1, confidence)).toBeGreaterThan(limit - 1e-9);
        },
      ),
    );
  });

  test("refuses what makes no sense", () => {
    expect(() => trialsNeeded(3, 2, 0.1, 0.95)).toThrow(new RangeError("There cannot be 3 failures in 2 trials."));
    expect(() => trialsNeeded(0, 2, 1.5, 0.95)).toThrow(new RangeError("A limit lies in 0 to 1, not 1.5."));
    expect(() => trialsNeeded(0, 2, 0.1, 1)).toThrow(RangeError);
  });
});
