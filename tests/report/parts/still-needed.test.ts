import { describe, expect, it } from "vitest";
import { stillNeeded } from "../../../src/report/parts/still-needed.js";
import { exampleWitnesses } from "../example-witnesses.js";
import { exampleRules } from "../example-rules.js";
import type { RuleFinding } from "../../../src/result/rules.js";

const [arrival] = exampleRules;
const asked = exampleWitnesses.questions.rules[0]!;
const rule = (parts: Partial<RuleFinding>): string => stillNeeded({ ...arrival!, ...parts }, asked).join("\n");

describe("what would change a verdict", () => {
  it("names what no history can mend", () => {
    expect(rule({})).toContain("board-a, phone-mira: each of them alone, by lying, can make the rule unlock, and no amount of history mends that");
    expect(rule({ singlePoints: { signals: [], causes: [] } })).not.toContain("by lying");
    expect(rule({ act: "lock" })).toContain("That does not decide about a rule that locks");
  });

  it("names what suffices only at times, where that keeps the verdict open", () => {
    const board = { signals: [], causes: ["board-b"], text: "board-b alone", share: 0.015, hoursPerMonth: 10.5, expectedPerYear: { value: 0.3, high: 0.6, why: null } };
    const cutSets = { ...arrival!.cutSets, inPractice: { ...arrival!.cutSets.inPractice, sets: [board, { ...board, causes: ["hub"], share: 0.002 }, { ...board, causes: ["board-a"] }, { ...board, signals: ["rail"] }] } };
    const reason = { code: "single-in-practice", effect: "open", text: "", measured: 0.015, limit: 0.01, unit: "share" } as const;
    expect(rule({ cutSets, reasons: [reason] })).toContain("board-b: it alone, by lying, could at times have made the rule unlock, for the rest of its condition held anyway.");
    expect(rule({ cutSets, reasons: [{ ...reason, effect: "noted" }] })).not.toContain("at times");
  });

  it("says how many months counting still takes, and only that it is long where it is", () => {
    const text = rule({ evidence: { ...arrival!.evidence, moreMonths: 10.1, moreWantedServed: 29 } });
    expect(text).toContain("Still needed: 11 months of 30 days of history without a wrong firing until counting shows the limit of 0.5 a year.");
    const long = rule({ evidence: { ...arrival!.evidence, moreMonths: 71.2 } });
    expect(long).toContain("Counting alone takes more than 2 years to show the limit of 0.5 a year.");
    expect(long).not.toContain("72");
    expect(text).toContain("29 further wanted moments, all confirmed and in time");
    expect(text).toContain("One answer can change the verdict: `keyworthy confirm site.yaml`. See");
  });

  it("says when enough was seen, and when there is no limit to meet", () => {
    expect(rule({ evidence: { ...arrival!.evidence, moreMonths: 0, moreWantedServed: 0 } })).toMatch(/history is long enough[^\n]*\nEnough wanted moments/);
    const unlimited = rule({ wrongPerYear: { ...arrival!.wrongPerYear, limit: null }, missedShare: { ...arrival!.missedShare, limit: null } });
    expect(unlimited).toContain("sets no limit for a wrong unlock");
    expect(unlimited).toContain("sets no limit for missed moments");
    expect(rule({ evidence: { ...arrival!.evidence, moreMonths: null, moreWantedServed: null } })).toContain("Counting cannot show the limit of 0.5 a year: at some hours of the day nobody could confirm anything.");
  });
});
