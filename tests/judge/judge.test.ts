import { describe, expect, it } from "vitest";
import type { z } from "zod";
import { judgeRule } from "../../src/judge/judge.js";
import { ruleFindingSchema, type RuleJudgement } from "../../src/result/rules.js";
import type { RuleSpec } from "../../src/site/site.js";
import { accountsOf, allOf, bookOf, is, line, min, over, ruleOf, siteOf, turned, type Told } from "./small-site.js";

const site = siteOf({
  subjects: { mira: "person", "yard-door": "door" },
  signals: { "phone-mira": "mira", "watch-mira": "mira", "door-rail": "yard-door" },
  shares: { "phone-mira": ["hub"], "door-rail": ["hub"] },
  limits: { unlock: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: min(2) } },
});
const rule = ruleOf(allOf(turned("phone-mira", 1, 10), is("door-rail", 1)), turned("mira", 1, 2), { name: "unlock on arrival", restMs: min(5) });
const truth = "0 off, 100 on, 200 off, 300 on, 400 off, 500 on";
const histories = { "phone-mira": "0 off, 101 on, 190 off, 250 on, 260 off, 301 on, 390 off, 495 on", "door-rail": "0 on, 302 off, 302.5 on, 480 off" };

function judged(told: Readonly<Record<string, Told>>, more: Partial<RuleSpec> = {}): RuleJudgement {
  return judgeRule(over(site, { ...rule, ...more }, accountsOf(histories), bookOf(told)));
}

describe("a rule judged over a day", () => {
  const seen = judged({ mira: { truth, outside: truth } });

  it("lists its firings, each with the wanted instant it serves", () => {
    expect(seen.firingList).toMatchObject([
      { id: "unlock on arrival #1", at: min(101), outcome: "right", looks: "right", wantedAt: min(100), delaySeconds: 60 },
      { id: "unlock on arrival #2", at: min(250), outcome: "wrong", looks: "wrong", wantedAt: null, delaySeconds: null },
      { id: "unlock on arrival #3", at: min(301), outcome: "right", wantedAt: min(300), delaySeconds: 60 },
    ]);
    expect(seen.firings).toEqual({ count: 3, right: 2, wrong: 1, unverified: 0 });
  });

  it("lists its wanted instants, each with the firing that serves it", () => {
    expect(seen.wantedList).toMatchObject([
      { at: min(100), outcome: "served", verified: true, firing: "unlock on arrival #1", delaySeconds: 60, why: "" },
      { at: min(300), outcome: "served", verified: true, firing: "unlock on arrival #3", delaySeconds: 60, why: "" },
      { at: min(500), outcome: "missed", verified: true, firing: null, delaySeconds: null, why: "door-rail said closed from 09:00:00 on: no longer window would have helped.", culprit: { signal: "door-rail", what: "said the opposite" } },
    ]);
    expect(seen.wanted).toEqual({ count: 3, served: 2, late: 0, missed: 1, verified: 3, verifiedFailed: 1 });
  });

  it("says what it is in words", () => {
    expect(seen).toMatchObject({
      name: "unlock on arrival",
      act: "unlock",
      condition: "phone-mira turned here within 10 min and door-rail is open",
      rightWhen: "mira turned here within 2 min",
      signals: ["door-rail", "phone-mira"],
    });
  });

  it("finds that the hub alone could open, and forbids the rule", () => {
    expect(seen.singlePoints).toEqual({ signals: [], causes: ["hub"] });
    expect(seen.verdict).toBe("do not enable");
    expect(seen.sentence).toBe("Do not enable: a fault of hub alone would unlock.");
  });

  it("forbids it for the wrong unlock too, which breaks the limit", () => {
    expect(seen.reasons).toContainEqual(expect.objectContaining({ code: "wrong-lower-bound", effect: "breaks", limit: 0.5 }));
  });

  it("does not count a firing as right on the word of its own signals", () => {
    const unseen = judged({ mira: { truth } });
    expect(unseen.firings).toEqual({ count: 3, right: 0, wrong: 0, unverified: 3 });
    expect(unseen.firingList.map((firing) => firing.looks)).toEqual(["right", "wrong", "right"]);
    expect(unseen.wanted.verified).toBe(0);
    expect(unseen.wrongPerYear.unverifiedAsRight.value).toBe(0);
    expect(unseen.wrongPerYear.unverifiedAsWrong.count).toBe(3);
  });
});

/** What is tried out with a rule, and what other months add to it, is put beside its judgement later. */
const judgedPart = ruleFindingSchema.omit({ digest: true, cumulated: true, drills: true, hostile: true, tuning: true });

describe("a judgement written out and read back", () => {
  it("is a rule finding, field by field", () => {
    for (const one of [judged({ mira: { truth, outside: truth } }), judged({ mira: { truth } }, { act: "arm" })]) {
      const written = judgedPart.encode(structuredClone(one) as z.output<typeof judgedPart>);
      expect(written.firingList[0]?.at).toBe(new Date(one.firingList[0]!.at).toISOString());
      expect(judgedPart.parse(written)).toEqual(one);
    }
  });
});

describe("moments to look at", () => {
  const [moment, ...others] = judged({ mira: { truth, outside: truth } }).moments;

  it("are the firings that were wrong or unverified, and only those", () => {
    expect(others).toEqual([]);
    expect(moment).toMatchObject({ firing: "unlock on arrival #2", from: min(250 - 15), to: min(250 + 10) });
    expect(judged({ mira: { truth } }).moments).toHaveLength(3);
  });

  it("show the rule's signals, what was so, and the rule's condition", () => {
    expect(moment?.lanes).toEqual([
      { label: "door-rail", role: "signal", steps: [[min(235), "on"]] },
      { label: "phone-mira", role: "signal", steps: [[min(235), "off"], [min(250), "on"]] },
      { label: "mira", role: "reference", steps: [[min(235), "off"]] },
      { label: "unlock on arrival", role: "rule", steps: [[min(235), "off"], [min(250), "on"]] },
    ]);
  });

  it("are cut to the period", () => {
    const early = judgeRule(over(site, rule, accountsOf({ "phone-mira": "0 off, 5 on", "door-rail": "0 on" }), bookOf({ mira: { truth: "0 off", outside: "0 off" } })));
    expect(early.moments[0]).toMatchObject({ from: 0, to: min(15) });
  });
});

describe("a signal without a single reading", () => {
  it("leaves a rule that needs it blind, silent and unproven", () => {
    const blind = judgeRule(over(site, ruleOf(is("phone-mira", 1), turned("mira", 1, 2), { act: "lock" }), accountsOf({ "phone-mira": "" }), bookOf({ mira: { truth } })));
    expect(blind.firings.count).toBe(0);
    expect(blind.evidence).toMatchObject({ blindShare: 1, yearsSeen: 0 });
    expect(blind.wrongPerYear.unverifiedAsWrong.value).toBeNull();
    expect(blind.verdict).toBe("not proven yet");
  });
});

describe("the same history and book", () => {
  it("give the same judgement, and nothing handed in is changed", () => {
    const accounts = accountsOf(histories);
    const before = line(histories["phone-mira"]);
    const book = bookOf({ mira: { truth, outside: truth } });
    expect(judgeRule(over(site, rule, accounts, book))).toEqual(judgeRule(over(site, rule, accounts, book)));
    expect(accounts.get("phone-mira")?.live).toEqual(before);
  });
});

describe("excerpts of near misses", () => {
  it("hold what the signals said to the rule, what was so, and what the rule made of it", () => {
    const when = allOf(is("phone", 1), is("rail", 1));
    const small = siteOf({ subjects: { mira: "person", door: "door" }, signals: { phone: "mira", rail: "door" } });
    const judged = judgeRule(over(small, ruleOf(when, is("mira", 1)), accountsOf({ phone: "0 off", rail: "0 off, 100 on, 130 off" }), bookOf({ mira: { truth: "0 off", outside: "0 off" } })));
    expect(judged.margin.nearMisses).toMatchObject([
      {
        from: min(100),
        to: min(130),
        inTheWay: ["phone"],
        excerpt: {
          from: min(85),
          to: min(140),
          lanes: [
            { label: "phone", role: "signal", steps: [[min(85), "off"]] },
            { label: "rail", role: "signal", steps: [[min(85), "off"], [min(100), "on"], [min(130), "off"]] },
            { label: "mira", role: "reference", steps: [[min(85), "off"]] },
            { label: "the rule", role: "rule", steps: [[min(85), "off"]] },
          ],
        },
      },
    ]);
  });
});
