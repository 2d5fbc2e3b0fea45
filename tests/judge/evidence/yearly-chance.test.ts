import { describe, expect, it } from "vitest";
import { yearlyChance } from "../../../src/judge/evidence/figures.js";
import { rateEstimate } from "../../../src/statistics/rate.js";

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
      "The chance of at least one wrong unlock within a year, if nothing changes: too little was seen to rule it out (up to 100 % is possible, 19 times in 20).",
    );
    expect(chance(0, 0, 50).text).toContain("less than one in ten (up to 7.2 % is possible");
    expect(chance(10, 0, 31 / 365.25).text).toContain("all but certain (more than 99.9 %, 19 times in 20)");
    expect(chance(2, 0, 1).text).toContain("a real one (between 21 % and 100 % is possible");
    expect(chance(1, 0, 1).text).toContain("too little was seen to rule it out (between 2.5 % and 99.7 %");
  });

  it("is more likely than not where even the lower bound is, and no more than that", () => {
    expect(chance(6, 0, 1).text).toContain("more likely than not (between 88");
  });

  it("is not made up where nothing was seen", () => {
    expect(chance(0, 0, 0)).toEqual({ value: null, low: null, high: null, text: "How likely a wrong unlock is within a year cannot be said: nothing was seen." });
  });
});

