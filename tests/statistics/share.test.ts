import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { binomialCdf } from "../../src/statistics/distributions.js";
import { shareEstimate, shareLowerBound, shareUpperBound } from "../../src/statistics/share.js";

const anyCounts = fc.integer({ min: 1, max: 400 }).chain((trials) => fc.tuple(fc.integer({ min: 0, max: trials }), fc.constant(trials)));
const anyConfidence = fc.double({ min: 0.5, max: 0.999, noNaN: true });

describe("shareEstimate", () => {
  test("of nothing has no value, and says why", () => {
    expect(shareEstimate(0, 0, 0.95)).toEqual({ value: null, low: null, high: null, count: 0, hits: 0, exposure: 0, unit: "share", why: "nothing was counted" });
  });

  test("all or none still leaves room on one side", () => {
    const none = shareEstimate(0, 20, 0.95);
    expect(none).toMatchObject({ count: 20, hits: 0, exposure: 20, unit: "share", why: null });
    const every = shareEstimate(20, 20, 0.95);
    expect([none.value, none.low]).toEqual([0, 0]);
    expect([every.value, every.high]).toEqual([1, 1]);
    expect(none.high).toBeCloseTo(1 - 0.025 ** (1 / 20), 12);
    expect(every.low).toBeCloseTo(0.025 ** (1 / 20), 12);
  });

  test("its limits are the shares at which so many, or so few, would be just too unlikely", () => {
    fc.assert(
      fc.property(anyCounts, anyConfidence, ([successes, trials], confidence) => {
        const { low, high } = shareEstimate(successes, trials, confidence);
        const tail = (1 - confidence) / 2;
        if (successes > 0) expect(1 - binomialCdf(successes - 1, trials, low!)).toBeCloseTo(tail, 8);
        if (successes < trials) expect(binomialCdf(successes, trials, high!)).toBeCloseTo(tail, 8);
      }),
    );
  });

  test("holds its value, widens with confidence, and mirrors when successes and failures change places", () => {
    fc.assert(
      fc.property(anyCounts, anyConfidence, ([successes, trials], confidence) => {
        const one = shareEstimate(successes, trials, confidence);
        const wider = shareEstimate(successes, trials, (1 + confidence) / 2);
        const mirror = shareEstimate(trials - successes, trials, confidence);
        expect(one.low).toBeLessThanOrEqual(one.value!);
        expect(one.high).toBeGreaterThanOrEqual(one.value!);
        expect(wider.low).toBeLessThanOrEqual(one.low!);
        expect(wider.high).toBeGreaterThanOrEqual(one.high!);
        expect(mirror.low).toBeCloseTo(1 - one.high!, 10);
      }),
    );
  });

  test("covers the true share at least as often as it promises (summed over every outcome, not sampled)", () => {
    for (const trials of [1, 7, 30]) {
      const intervals = Array.from({ length: trials + 1 }, (_, successes) => shareEstimate(successes, trials, 0.95));
      for (let truth = 0.01; truth < 1; truth += 0.01) {
        const covered = intervals.reduce((sum, { low, high }, successes) => {
          const chance = binomialCdf(successes, trials, truth) - (successes === 0 ? 0 : binomialCdf(successes - 1, trials, truth));
          return low! <= truth && truth <= high! ? sum + chance : sum;
        }, 0);
        expect(covered).toBeGreaterThanOrEqual(0.95 - 1e-9);
      }
    }
  });
});

describe("one-sided bounds", () => {
  test("without trials bound nothing", () => {
    expect([shareLowerBound(0, 0, 0.95), shareUpperBound(0, 0, 0.95)]).toEqual([0, 1]);
  });

  test("are tighter than the two-sided limits at the same confidence", () => {
    fc.assert(
      fc.property(anyCounts, anyConfidence, ([successes, trials], confidence) => {
        const { low, high } = shareEstimate(successes, trials, confidence);
        expect(shareUpperBound(successes, trials, confidence)).toBeLessThanOrEqual(high!);
        expect(shareLowerBound(successes, trials, confidence)).toBeGreaterThanOrEqual(low!);
      }),
    );
  });

  test("one more failure never lowers the upper bound; one more faultless trial never raises it", () => {
    fc.assert(
      fc.property(anyCounts, anyConfidence, ([failures, trials], confidence) => {
        const bound = shareUpperBound(failures, trials, confidence);
        expect(shareUpperBound(failures, trials + 1, confidence)).toBeLessThanOrEqual(bound);
        expect(shareUpperBound(failures + 1, trials + 1, confidence)).toBeGreaterThanOrEqual(bound);
      }),
    );
  });

  test("keep their precision for a million faultless trials", () => {
    expect(shareUpperBound(0, 1e6, 0.95) / (1 - 0.05 ** 1e-6)).toBeCloseTo(1, 9);
  });
});

test("refuses counts and confidences that make no sense", () => {
  expect(() => shareEstimate(3, 2, 0.95)).toThrow(new RangeError("There cannot be 3 successes in 2 trials."));
  expect(() => shareEstimate(0.5, 2, 0.95)).toThrow(new RangeError("The number of successes must be a whole number of 0 or more, not 0.5."));
  expect(() => shareEstimate(0, 1.5, 0.95)).toThrow(new RangeError("The number of trials must be a whole number of 0 or more, not 1.5."));
  expect(() => shareUpperBound(0, -1, 0.95)).toThrow(new RangeError("The number of trials must be a finite number of 0 or more, not -1."));
  expect(() => shareUpperBound(-1, 1, 0.95)).toThrow(new RangeError("The number of successes must be a finite number of 0 or more, not -1."));
  expect(() => shareLowerBound(0, 1, 95)).toThrow(new RangeError("A confidence lies between 0 and 1, not 95."));
  expect(() => shareEstimate(0, 1, NaN)).toThrow(RangeError);
});
