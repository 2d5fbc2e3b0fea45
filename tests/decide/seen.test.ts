import { describe, expect, it } from "vitest";
import { hoursText, seenText, shortfallText, type SeenContext } from "../../src/decide/seen.js";
import { exampleFindings } from "../report/example-findings.js";
import type { RuleFinding } from "../../src/result/rules.js";

const rule = exampleFindings.rules[0]!;
const context: SeenContext = { hour: (at) => new Date(at).getUTCHours(), date: () => "21 October", diaryEnds: 1, asked: { afterDiary: 0 }, saidBefore: false };
const wanted = { count: 0, served: 0, late: 0, missed: 0, verified: 0, verifiedFailed: 0 };
const said = (parts: Partial<RuleFinding>, more: Partial<SeenContext> = {}): string => seenText({ ...rule, cumulated: null, firingList: [], wanted, ...parts }, { ...context, ...more });
const firings = (right: number, wrong: number, unverified: number): RuleFinding["firings"] => ({ count: right + wrong + unverified, right, wrong, unverified });

describe("what was seen of a rule", () => {
  it("is how many were wrong, and what nobody confirmed", () => {
    expect(said({ firings: firings(40, 0, 20) })).toBe("None wrong. 20 of 60 unlocks unverified.");
    expect(said({ firings: firings(53, 10, 22) })).toBe("10 of 85 unlocks wrong. 22 unverified.");
    expect(said({ firings: firings(60, 0, 0) })).toBe("None of 60 unlocks wrong.");
    expect(said({ firings: firings(0, 0, 0) })).toBe("It never acted.");
  });

  it("says what none wrong does not rule out, where that is why a rule is not proven", () => {
    const reasons = [{ code: "wrong-upper-bound" as const, effect: "open" as const, text: "", measured: 105.3, limit: 1, unit: "" }];
    expect(shortfallText({ verdict: "not proven yet", reasons })).toBe("could be 106 wrong a year; limit 1");
    expect(shortfallText({ verdict: "clear to enable", reasons: [] })).toBeNull();
    expect(shortfallText({ verdict: "do not enable", reasons })).toBeNull();
  });

  it("says where the diary ends, once", () => {
    expect(said({ firings: firings(40, 0, 20) }, { asked: { afterDiary: 20 } })).toBe("None wrong. 20 of 60 unlocks unverified, all after your diary stopped on 21 October.");
    expect(said({ firings: firings(40, 0, 20) }, { asked: { afterDiary: 12 } })).toBe("None wrong. 20 of 60 unlocks unverified, 12 after your diary stopped on 21 October.");
    expect(said({ firings: firings(40, 0, 20) }, { asked: { afterDiary: 20 }, saidBefore: true })).toBe("None wrong. 20 of 60 unlocks unverified, also after that day.");
  });

  it("counts what was missed and what was late", () => {
    expect(said({ firings: firings(60, 0, 0), wanted: { ...wanted, count: 63, missed: 2 } })).toContain("2 of 63 needed unlocks missed.");
    expect(said({ firings: firings(60, 0, 0), wanted: { ...wanted, count: 63, late: 1 } })).toContain("1 of 63 needed unlocks late.");
    expect(said({ firings: firings(60, 0, 0), wanted: { ...wanted, count: 63, missed: 2, late: 1 } })).toContain("3 of 63 needed unlocks missed or late.");
  });
});

describe("the hours at which they come", () => {
  it("are told where a few hours hold most of them", () => {
    expect(hoursText([1, 1, 2, 3, 3, 4, 0.1, 17, 20, 12])).toBe(", seven between midnight and 05:00");
    expect(hoursText([23, 23.5, 0, 1])).toBe(", all between 23:00 and 02:00");
  });

  it("are not told of few, nor where they come at any time", () => {
    expect(hoursText([2, 3])).toBe("");
    expect(hoursText([1, 5, 9, 13, 17, 21])).toBe("");
  });
});
