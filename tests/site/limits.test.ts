import { describe, expect, it } from "vitest";
import { limitText } from "../../src/judge/rule/words.js";
import { parseSite } from "../../src/site/parse.js";
import { ruleDigest } from "../../src/site/rule-digest.js";
import { edited, messagesFor } from "./small-site.js";

const limiting = (written: string): string => edited(["wrong_per_year: 0.5, ", written]);

describe("the limit of wrong firings", () => {
  it.each([["wrong_per_year: 0.5, "], ["at_most: once in 2 years, "], ["at_most: 3 times in 72 months, "]])("is the same as %s", (written) => {
    expect(parseSite(limiting(written), "site.yaml", "/somewhere").limits).toMatchObject({ unlock: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: 120_000 } });
  });

  it("is kept in its user's words, and is the same limit of the same rule however it is written", () => {
    const [inWords, plain] = ["at_most: once in 2 years, ", "wrong_per_year: 0.5, "].map((written) => parseSite(limiting(written), "site.yaml", "/somewhere"));
    expect(inWords!.limits.unlock?.inWords).toBe("once in 2 years");
    expect(limitText(inWords!.limits.unlock!)).toBe("once in 2 years, that is 0.5 a year");
    expect(limitText(plain!.limits.unlock!)).toBe("0.5");
    expect(ruleDigest(inWords!, inWords!.rules[0]!)).toBe(ruleDigest(plain!, plain!.rules[0]!));
  });

  it.each<[string, string, string]>([
    ["given in no way", "", 'site.yaml:30:3: limits › unlock needs one of "wrong_per_year" and "at_most". Expected "wrong_per_year: 0.5" or "at_most: once in 2 years"; found neither.'],
    [
      "given in both ways", "wrong_per_year: 0.5, at_most: once in 2 years, ",
      'site.yaml:30:3: limits › unlock needs one of "wrong_per_year" and "at_most". Expected "wrong_per_year: 0.5" or "at_most: once in 2 years"; found both.',
    ],
    [
      "given in other words", "at_most: every second year, ",
      'site.yaml:30:22: The value of limits › unlock › at_most cannot be used. Expected how often, as in once in 2 years, once a year, twice a year, 3 times a year, 3 times in 2 years, once in 18 months or 2 a year; found "every second year".',
    ],
    [
      "given as a number beside at_most", "at_most: 0.5, ",
      'site.yaml:30:22: The value of limits › unlock › at_most cannot be used. Expected how often, as in once in 2 years, once a year, twice a year, 3 times a year, 3 times in 2 years, once in 18 months or 2 a year; found "0.5".',
    ],
  ])("is refused when %s", (_, written, message) => expect(messagesFor(limiting(written))).toEqual([message]));
});
