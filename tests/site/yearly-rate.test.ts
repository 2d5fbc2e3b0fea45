import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseYearlyRate, yearlyRateForms } from "../../src/site/yearly-rate.js";

describe("parseYearlyRate", () => {
  it.each([
    ["once in 2 years", 0.5], ["once a year", 1], ["twice a year", 2], ["3 times a year", 3], ["3 times in 2 years", 1.5], ["once in 18 months", 12 / 18], ["2 a year", 2],
    ["twice in 3 years", 2 / 3], ["once in 1 month", 12], ["1 time in 1 year", 1], [" once in 2 years ", 0.5],
  ])("reads %j as %d a year", (text, rate) => expect(parseYearlyRate(text)).toBe(rate));

  it("reads every form that messages list", () => {
    for (const form of yearlyRateForms) expect([form, parseYearlyRate(form)]).toEqual([form, expect.any(Number)]);
  });

  it.each([
    "", "0.5", "2", "once", "never", "once in 0 years", "0 times a year", "0 a year", "once in two years", "three times a year", "once a month", "2 a month", "2 in 3 years", "once in 1.5 years",
    "0.5 a year", "-1 times a year", "once in 2 weeks", "Once a year", "once  a year", "at most once a year", "twice a years",
  ])("refuses %j", (text) => expect(parseYearlyRate(text)).toBeNull());

  it("gives the same number whether written in years or in months", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 1, max: 999 }), (count, years) => {
        const rate = parseYearlyRate(`${count} times in ${years} years`);
        expect(rate).toBe(count / years);
        expect(parseYearlyRate(`${count} times in ${12 * years} months`)).toBe(rate);
      }));
  });
});
