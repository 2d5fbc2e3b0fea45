import { describe, expect, it } from "vitest";
import { judged, type Past } from "./past.js";

/** The sentence without its bound, which other tests work out. */
const sentence = (past: Past): string => judged({ right: 40, served: 42, limits: { wrongPerYear: 12 }, ...past }).sentence;
const upTo = (past: Past): string => sentence(past).replace(/up to \d+(\.\d+)?/, "up to N").replace(/ (Counting another|Even 24).*/, "");

describe("the sentence on firings that nobody confirms", () => {
  it("speaks of one as one", () => {
    expect(upTo({ unverified: 1 })).toBe(
      "Not proven yet: no wrong unlock in 31 confirmed days allows up to N a year; the limit is 12. 1 unlock could not be confirmed and counts neither for nor against. Another 6 months without more faults than these would show it by counting.",
    );
  });

  it("speaks of several as several, beside the wrong ones", () => {
    expect(upTo({ unverified: 3, wrong: 2, limits: { wrongPerYear: 30 } })).toBe(
      "Not proven yet: 2 wrong unlocks in 31 confirmed days allow up to N a year; the limit is 30. 3 unlocks could not be confirmed and count neither for nor against.",
    );
  });

  it("says when they are more than the hours explain, and so taken as wrong", () => {
    const unexplained = { firings: 0.1, wanted: 0 };
    expect(upTo({ unverified: 3, expectedUnverified: unexplained })).toMatch(/ 3 unlocks could not be confirmed\. The unconfirmed hours explain fewer, so they count as wrong\.$/);
    expect(upTo({ unverified: 1, expectedUnverified: { ...unexplained, firings: 0 } })).toMatch(/ 1 unlock could not be confirmed\. The unconfirmed hours explain fewer, so it counts as wrong\.$/);
  });

  it("is silent about them where there are none", () => {
    expect(upTo({})).toBe("Not proven yet: no wrong unlock in 31 confirmed days allows up to N a year; the limit is 12. Another 3 months without more faults than these would show it by counting.");
  });
});

describe("the sentence on what was seen", () => {
  it("tells the wrong ones without a limit too", () => {
    const counts = (past: Past): string => /unlock; (.*) in 31 confirmed days (allows?) /.exec(sentence({ ...past, limits: null }))?.slice(1).join(" ") ?? "";
    expect(counts({ wrong: 2 })).toBe("2 wrong unlocks allow");
    expect(counts({ wrong: 1 })).toBe("1 wrong unlock allows");
    expect(counts({})).toBe("no wrong unlock allows");
  });

  it("says how many more months would show it if nothing got worse, and what they would show otherwise", () => {
    expect(sentence({})).toMatch(/ Another 3 months without more faults than these would show it by counting\.$/);
    expect(sentence({ wrong: 1 })).toMatch(/ Even 24 more months like these could show no better than \d+ a year by counting\.$/);
  });
});
