import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { atObservedRate, yearlyChance } from "../../src/rules/evidence.js";
import { rateEstimate, rateUpperBound } from "../../src/statistics/rate.js";
import { shareUpperBound } from "../../src/statistics/share.js";

const chance = (wrong: number, unverified: number, years: number): ReturnType<typeof yearlyChance> =>
  yearlyChance("unlock", { unverifiedAsRight: rateEstimate(wrong, years, 0.95, "per year"), unverifiedAsWrong: rateEstimate(wrong + unverified, years, 0.95, "per year") }, 0.95);

describe("the chance of a wrong unlock within a year", () => {
  it("is one minus the chance of none", () => {
    const { value, low, high } = chance(2, 1, 4);
    expect(value).toBeCloseTo(1 - Math.exp(-0.5), 12);
    expect(low).toBeCloseTo(1 - Math.exp(-0.2422 / 4), 5);
    expect(high).toBeCloseTo(1 - Math.exp(-8.7673 / 4), 5);
  });

  it("is said in words that go by the bounds, not by hope", () => {
    expect(chance(0, 0, 31 / 365.25).text).toBe(
      "The chance of at least one wrong unlock within a year, if things go on as they did: too little was seen to rule it out (up to 100 % is possible at 95 % confidence).",
    );
    expect(chance(0, 0, 50).text).toContain("less than one in ten (up to 7.12 % is possible");
    expect(chance(10, 0, 31 / 365.25).text).toContain("all but certain (more than 99.9 % at 95 % confidence)");
    expect(chance(2, 0, 1).text).toContain("a real one (between 21.5 % and 100 % is possible");
    expect(chance(1, 0, 1).text).toContain("too little was seen to rule it out (between 2.5 % and 99.7 %");
  });

  it("is not made up where nothing was seen", () => {
    expect(chance(0, 0, 0)).toEqual({ value: null, low: null, high: null, text: "How likely a wrong unlock is within a year cannot be said: nothing was seen." });
  });
});

const limits = { wrongPerYear: 2, missedShare: 0.1, withinMs: 120_000 };

describe("what is still needed at the observed rate", () => {
  it("is nothing once the limit is met, and cannot be told without a limit or past it", () => {
    expect(atObservedRate(0, 10, 0, 100, limits, 0.95)).toEqual({ moreMonths: 0, moreWanted: 0 });
    expect(atObservedRate(5, 1, 5, 10, limits, 0.95)).toEqual({ moreMonths: null, moreWanted: null });
    expect(atObservedRate(0, 0, 0, 0, limits, 0.95)).toEqual({ moreMonths: null, moreWanted: 29 });
    expect(atObservedRate(0, 10, 0, 100, null, 0.95)).toEqual({ moreMonths: null, moreWanted: null });
  });

  it("meets the limit when that much more has gone as before", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 6 }), fc.double({ min: 0.1, max: 8, noNaN: true }), fc.integer({ min: 0, max: 8 }), fc.integer({ min: 1, max: 120 }), (faults, years, missed, wanted) => {
        const { moreMonths, moreWanted } = atObservedRate(faults, years, Math.min(missed, wanted), wanted, limits, 0.95);
        if (moreMonths !== null) {
          const then = years + (moreMonths * 30) / 365.25;
          expect(rateUpperBound(Math.max(faults, Math.ceil((faults / years) * then - 1e-6)), then, 0.95)).toBeLessThanOrEqual(limits.wrongPerYear * (1 + 1e-9));
        }
        if (moreWanted !== null) {
          const share = Math.min(missed, wanted) / wanted;
          expect(shareUpperBound(Math.ceil(share * (wanted + moreWanted) - 1e-9), wanted + moreWanted, 0.95)).toBeLessThanOrEqual(limits.missedShare);
        }
      }),
      { numRuns: 300 },
    );
  });
});
