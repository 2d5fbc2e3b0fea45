import { describe, expect, it } from "vitest";
import { roadsOf } from "../../src/decide/roads.js";
import { exampleFindings } from "../report/example-findings.js";
import { exampleDesign } from "../report/example-roads.js";
import type { RuleFinding } from "../../src/result/rules.js";

const rule: RuleFinding = { ...exampleFindings.rules[1]!, cumulated: null, act: "unlock", singlePoints: { signals: [], causes: [] } };
const broken: RuleFinding["reasons"] = [{ code: "wrong-lower-bound", effect: "breaks", text: "", measured: 59.6, limit: 1, unit: "per year" }];

describe("the bounds that decide", () => {
  it("are at most what counting allows, or at least what it shows where that breaks the limit", () => {
    const bounds = { ...rule.bounds, wrongUpper: 152.4, wrongLower: 59.6 };
    expect(roadsOf({ ...rule, bounds, reasons: [] })[0]).toMatchObject({ road: "counting", side: "at most", perYear: 152.4 });
    expect(roadsOf({ ...rule, bounds, reasons: broken, firings: { count: 85, right: 53, wrong: 10, unverified: 22 } })[0]).toMatchObject({ side: "at least", perYear: 59.6, text: expect.stringMatching(/^10 wrong unlocks in [\d.]+ days$/) as string });
  });

  it("say where nothing was confirmed", () => {
    const unseen: RuleFinding = { ...rule, cumulated: null, reasons: [], firings: { count: 33, right: 0, wrong: 0, unverified: 33 }, evidence: { ...rule.evidence, yearsConfirmed: 0 } };
    expect(roadsOf(unseen)[0]!.text).toBe("none of 33 unlocks confirmed");
  });

  it("count by design only while every condition holds", () => {
    expect(roadsOf({ ...rule, design: exampleDesign })[1]).toMatchObject({ road: "design", holds: true, perYear: exampleDesign.figures!.bound });
    const failing = { ...exampleDesign, conditions: [{ code: "cover" as const, holds: false, text: "" }] };
    expect(roadsOf({ ...rule, design: failing })[1]).toMatchObject({ holds: false, text: "does not count yet: one condition is not met" });
  });

  it("are none by design where one false report is enough", () => {
    expect(roadsOf({ ...rule, singlePoints: { signals: ["phone-mira", "phone-tom"], causes: ["hub"] } })[1]).toMatchObject({ perYear: null, text: "one false report of phone-mira or phone-tom is enough" });
  });
});
