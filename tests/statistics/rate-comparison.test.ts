import fc from "fast-check";
import { expect, test } from "vitest";
import { rateComparisonPValue } from "../../src/statistics/rate-comparison.js";
import { shareEstimate } from "../../src/statistics/share.js";

const anyCount = fc.integer({ min: 0, max: 60 });
const anyExposure = fc.integer({ min: 1, max: 500 });

test("equal counts over equal time are no evidence", () => {
  expect(rateComparisonPValue(5, 30, 5, 30)).toBe(1);
});

test("five faults to none over equal time: twice a half to the fifth", () => {
  expect(rateComparisonPValue(5, 30, 0, 30)).toBeCloseTo(2 * 0.5 ** 5, 12);
});

test("no events, or one side never observed, are no evidence", () => {
  expect(rateComparisonPValue(0, 30, 0, 60)).toBe(1);
  expect(rateComparisonPValue(4, 30, 0, 0)).toBe(1);
  expect(rateComparisonPValue(0, 0, 0, 0)).toBe(1);
});

test("a very small p-value keeps its precision", () => {
  expect(rateComparisonPValue(200, 1, 0, 1) / 2 ** -199).toBeCloseTo(1, 9);
  expect(rateComparisonPValue(0, 1, 200, 1) / 2 ** -199).toBeCloseTo(1, 9);
});

test("it does not matter who is named first, nor in what unit time is measured", () => {
  fc.assert(
    fc.property(anyCount, anyExposure, anyCount, anyExposure, (countA, exposureA, countB, exposureB) => {
      const p = rateComparisonPValue(countA, exposureA, countB, exposureB);
      expect(p).toBeGreaterThanOrEqual(0);
      expect(p).toBeLessThanOrEqual(1);
      expect(rateComparisonPValue(countB, exposureB, countA, exposureA)).toBeCloseTo(p, 10);
      expect(rateComparisonPValue(countA, exposureA * 8, countB, exposureB * 8)).toBeCloseTo(p, 10);
    }),
  );
});

test("is below α just when the exact interval for the first's share of the events leaves out its share of the time", () => {
  fc.assert(
    fc.property(anyCount, anyExposure, anyCount, anyExposure, fc.constantFrom(0.1, 0.05, 0.01), (countA, exposureA, countB, exposureB, alpha) => {
      fc.pre(countA + countB > 0);
      const p = rateComparisonPValue(countA, exposureA, countB, exposureB);
      fc.pre(Math.abs(p - alpha) > 1e-6);
      const { low, high } = shareEstimate(countA, countA + countB, 1 - alpha);
      const shareOfTime = exposureA / (exposureA + exposureB);
      expect(p < alpha).toBe(shareOfTime < low! || shareOfTime > high!);
    }),
    { numRuns: 500 },
  );
});

test("false alarms are no more frequent than promised (summed over every split, not sampled)", () => {
  for (const [exposureA, exposureB] of [[1, 1], [1, 4], [9, 2]] as const) {
    const share = exposureA / (exposureA + exposureB);
    for (const total of [1, 8, 25]) {
      let chance = (1 - share) ** total;
      let falseAlarms = 0;
      for (let countA = 0; countA <= total; countA += 1) {
        if (rateComparisonPValue(countA, exposureA, total - countA, exposureB) <= 0.05) falseAlarms += chance;
        chance *= ((total - countA) / (countA + 1)) * (share / (1 - share));
      }
      expect(falseAlarms).toBeLessThanOrEqual(0.05 + 1e-12);
    }
  }
});

test("refuses events without exposure, and counts that are none", () => {
  expect(() => rateComparisonPValue(1, 0, 2, 5)).toThrow(new RangeError("Nothing can have happened where nothing was observed."));
  expect(() => rateComparisonPValue(1, 5, 2, 0)).toThrow(new RangeError("Nothing can have happened where nothing was observed."));
  expect(() => rateComparisonPValue(-1, 1, 2, 5)).toThrow(new RangeError("A count of events must be a whole number of 0 or more, not -1."));
  expect(() => rateComparisonPValue(1, 1, 2.5, 5)).toThrow(new RangeError("A count of events must be a whole number of 0 or more, not 2.5."));
  expect(() => rateComparisonPValue(1, -1, 2, 5)).toThrow(new RangeError("The exposure must be a finite number of 0 or more, not -1."));
  expect(() => rateComparisonPValue(1, 1, 2, NaN)).toThrow(new RangeError("The exposure must be a finite number of 0 or more, not NaN."));
});
