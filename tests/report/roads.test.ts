import { describe, expect, it } from "vitest";
import { claimsOf, designFiguresOf, roadsAhead, whyNoClaim } from "../../src/report/roads.js";
import { closesDesign } from "../../src/report/right-when-windows.js";
import { exampleCumulated } from "./example-months.js";
import { exampleClosedDesign, exampleDesign, exampleFigures, exampleNoGap, exampleRoads } from "./example-roads.js";
import { exampleRules } from "./example-rules.js";
import type { LimitClaim } from "../../src/result/design.js";

const rule = exampleRules[1]!;
const claims = (...rows: [number, number | null, number | null][]): LimitClaim[] => rows.map(([moreMonths, byCounting, byDesign]) => ({ moreMonths, byCounting, byDesign }));

describe("the roads ahead", () => {
  it("begin with the one that meets the limit sooner, though the other supports less in the end", () => {
    const both = claims([0, 0.9, null], [12, 0.8, 0.2]);
    expect(roadsAhead(both, 1)).toEqual(["counting", "design"]);
    expect(roadsAhead(both, 0.5)).toEqual(["design", "counting"]);
  });

  it("begin with the smaller limit in the end where neither meets the limit, or there is none", () => {
    expect(roadsAhead(claims([0, 50, null], [24, 9, 4]), 1)).toEqual(["design", "counting"]);
    expect(roadsAhead(claims([0, 50, null], [24, 3, 4]), null)).toEqual(["counting", "design"]);
  });

  it("leave out a road that supports nothing", () => {
    expect(roadsAhead(claims([0, 50, null], [24, 9, null]), 1)).toEqual(["counting"]);
    expect(roadsAhead(claims([0, null, null]), 1)).toEqual([]);
    expect(roadsAhead([], 1)).toEqual([]);
  });
});

describe("why a road supports nothing", () => {
  it("is the first condition of design that fails, of the rule before what was seen", () => {
    const months = { code: "months", holds: false, text: "Only 31 days were seen." } as const;
    const figures = { ...exampleFigures, conditions: [months] };
    const none = { claims: claims([0, 50, null], [24, 9, null]), cumulated: null };
    expect(whyNoClaim({ ...rule, ...none, design: exampleClosedDesign }, "design")).toBe("By design nothing can be claimed. Its condition about vehicles can stay true for hours.");
    expect(whyNoClaim({ ...rule, ...exampleRoads, cumulated: null, design: { ...exampleDesign, figures } }, "design")).toBe("By design nothing can be claimed yet. Only 31 days were seen.");
    expect(whyNoClaim({ ...rule, ...none, design: null }, "design")).toBe("By design nothing can be claimed. This road was not looked at.");
  });

  it("of counting, is that nobody could confirm anything at some hours, or that nothing was seen", () => {
    const none = { ...rule, cumulated: null, claims: claims([0, null, null]) };
    expect(whyNoClaim(none, "counting")).toBe("By counting nothing can be claimed. At some hours of the day nobody could confirm a firing.");
    expect(whyNoClaim({ ...none, evidence: { ...rule.evidence, yearsSeen: 0 } }, "counting")).toContain("no time in which the rule could be judged");
  });

  it("is not told where it supports something now", () => {
    expect(whyNoClaim({ ...rule, cumulated: null, claims: claims([0, 5, 2]) }, "design")).toBeNull();
    expect(whyNoClaim({ ...rule, cumulated: null, claims: [] }, "design")).toBeNull();
  });
});

describe("over several periods", () => {
  it("claims and figures are those of all of them", () => {
    const past = { ...rule, cumulated: { ...exampleCumulated, design: { ...exampleFigures, days: 700 } } };
    expect(claimsOf(past)).toBe(exampleCumulated.claims);
    expect(designFiguresOf(past)?.days).toBe(700);
    expect(designFiguresOf({ ...past, cumulated: { ...exampleCumulated, design: null } })).toBeNull();
  });
});

describe("a right_when of shorter windows", () => {
  const condition = "bay-2-overhead turned occupied within 10 min and phone-tom was here within the last 1 h 30 min";
  it("closes the road of design where it ends before the rule's longest window and the largest lag are over", () => {
    const closes = (rightWhen: string): boolean => closesDesign({ condition, gap: exampleNoGap, design: exampleDesign }, rightWhen);
    expect(closes("{ some: people, turned: here, within: 1 h 32 min }")).toBe(true);
    expect(closes("{ some: people, turned: here, within: 1 h 33 min }")).toBe(false);
    expect(closes("{ all: [ { subject: a, turned: here, within: 2 h }, { subject: b, is: on, recently: 5 min } ] }")).toBe(true);
  });

  it("closes nothing where there is no such road, or no window in it", () => {
    expect(closesDesign({ condition, gap: null, design: exampleClosedDesign }, "{ some: people, turned: here, within: 1 min }")).toBe(false);
    expect(closesDesign({ condition, gap: null, design: exampleDesign }, "{ every: people, is: away }")).toBe(false);
  });
});
