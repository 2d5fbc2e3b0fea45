import { describe, expect, it } from "vitest";
import { judged, type Past } from "./past.js";

/** The sentence without its bound, which other tests work out. */
const sentence = (past: Past): string => judged({ right: 40, served: 42, limits: { wrongPerYear: 12 }, ...past }).sentence;
const upTo = (past: Past): string => sentence(past).replace(/up to \d+(\.\d+)?/, "up to N").replace(/ If they turn out right.*/, "");

describe("the sentence on firings that nobody confirms", () => {
  it("speaks of one as one", () => {
    expect(upTo({ unverified: 1 })).toBe("Not proven yet: 1 of 41 unlocks in 31 days is unverified; taken as wrong, it allows up to N wrong a year; the limit is 12.");
  });

  it("speaks of several as several", () => {
    expect(upTo({ unverified: 2 })).toBe("Not proven yet: 2 of 42 unlocks in 31 days are unverified; taken as wrong, they allow up to N wrong a year; the limit is 12.");
  });

  it("tells the wrong ones beside them", () => {
    expect(upTo({ unverified: 1, wrong: 1 })).toBe("Not proven yet: of 42 unlocks in 31 days, 1 was wrong and 1 is unverified; taken as wrong, it allows up to N wrong a year; the limit is 12.");
    expect(upTo({ unverified: 3, wrong: 2, limits: { wrongPerYear: 30 } })).toBe("Not proven yet: of 45 unlocks in 31 days, 2 were wrong and 3 are unverified; taken as wrong, they allow up to N wrong a year; the limit is 30.");
  });

  it("says how much longer it takes if they turn out right, and if they stay unverified", () => {
    expect(sentence({ unverified: 1 })).toMatch(/ If they turn out right, another \d+ months without a fault would show it; if they stay unverified, \d+ months\.$/);
    expect(sentence({ days: 150, unverified: 1 })).toMatch(/ If they turn out right, it is shown; if they stay unverified, another \d+ months?\.$/);
  });

  it("counts them without a limit too", () => {
    const counts = (past: Past): string => /unlock; (.*) in 31 days (allows?) /.exec(sentence({ ...past, limits: null }))?.slice(1).join(" ") ?? "";
    expect(counts({ unverified: 1 })).toBe("1 unverified unlock allows");
    expect(counts({ unverified: 3 })).toBe("3 unverified unlocks allow");
    expect(counts({ unverified: 3, wrong: 1 })).toBe("1 wrong and 3 unverified unlocks allow");
    expect(counts({ unverified: 1, wrong: 1 })).toBe("1 wrong and 1 unverified unlocks allow");
    expect(counts({ wrong: 1 })).toBe("1 wrong unlock allows");
    expect(counts({})).toBe("no wrong unlock allows");
  });
});

describe("the sentence on firings that were wrong", () => {
  it("leaves out that they still allow too many, which is said where there was none", () => {
    expect(upTo({ wrong: 1 })).toMatch(/^Not proven yet: 1 wrong unlock in 31 days allows up to N/);
    expect(upTo({})).toMatch(/^Not proven yet: no wrong unlock in 31 days still allows up to N/);
  });
});
