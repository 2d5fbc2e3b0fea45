import { describe, expect, it } from "vitest";
import { factsWithout } from "../../../src/judge/rule/facts.js";
import { replay } from "../../../src/judge/replay/replay.js";
import { toleranceOf } from "../../../src/judge/rule/prepare.js";
import { wantedOutcomes, wantedStretches, type WantedOutcomes } from "../../../src/judge/replay/wanted.js";
import type { Expression } from "../../../src/site/expression.js";
import type { RuleSpec } from "../../../src/site/site.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { accountsOf, allOf, bookOf, is, line, min, ruleOf, siteOf, turned, type Told } from "../small-site.js";

const site = siteOf({
  subjects: { mira: "person", "yard-door": "door" },
  signals: { "phone-mira": "mira", "door-rail": "yard-door" },
  limits: { lock: { wrongPerYear: 2, missedShare: 0.1, withinMs: min(15) } },
});

function wantedOf(rule: RuleSpec, histories: Readonly<Record<string, string | Timeline>>, told: Readonly<Record<string, Told>>): WantedOutcomes {
  const book = bookOf(told);
  const witnesses = { outside: factsWithout(Object.keys(histories), rule.rightWhen, book, 0, "verified"), support: factsWithout(Object.keys(histories), rule.rightWhen, book, 0), full: factsWithout([], rule.rightWhen, book, 0) };
  return wantedOutcomes(rule, site, replay(rule, accountsOf(histories), 0), witnesses, toleranceOf(rule, site));
}

const miraArrives: Expression = turned("mira", 1, 5);
const unlocks = (when: Expression, more: Partial<RuleSpec> = {}): RuleSpec => ruleOf(when, miraArrives, more);
const byPhone = unlocks(turned("phone-mira", 1, 2));

describe("an arrival the door should open for", () => {
  it("is served by a firing within the tolerance after it, and before it", () => {
    const told = { mira: { truth: "0 off, 100 on, 200 off, 300 on" } };
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 101 on, 200 off, 299 on" }, told).list).toMatchObject([
      { at: min(100), outcome: "served", firingAt: min(101), delaySeconds: 60, why: "" },
      { at: min(300), outcome: "served", firingAt: min(299), delaySeconds: -60 },
    ]);
  });

  it("is served late by a firing after the tolerance while it still holds", () => {
    const { list } = wantedOf(byPhone, { "phone-mira": "0 off, 104 on" }, { mira: { truth: "0 off, 100 on" } });
    expect(list).toMatchObject([{ outcome: "late", firingAt: min(104), delaySeconds: 240, why: "Stood in the way: phone-mira turned here within 2 min (not so)." }]);
  });

  it("is missed when the firing comes too late to be any good, or not at all", () => {
    const told = { mira: { truth: "0 off, 100 on" } };
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 106 on" }, told).list).toMatchObject([{ outcome: "missed", firingAt: null, delaySeconds: null }]);
    expect(wantedOf(byPhone, { "phone-mira": "0 off" }, told).list).toMatchObject([{ outcome: "missed" }]);
  });

  it("tells what stood in the way where least did, and what was unknown", () => {
    const rule = unlocks(allOf(turned("phone-mira", 1, 2), is("door-rail", 1)));
    const told = { mira: { truth: "0 off, 100 on" } };
    expect(wantedOf(rule, { "phone-mira": "0 off, 101 on", "door-rail": "0 off" }, told).list[0]?.why).toBe("Stood in the way: door-rail is open (not so).");
    expect(wantedOf(rule, { "phone-mira": "0 off, 101 on", "door-rail": "" }, told).list[0]?.why).toBe("Stood in the way: door-rail is open (unknown).");
  });

  it("tells when the condition had been true all along", () => {
    const { list } = wantedOf(unlocks(is("door-rail", 1)), { "door-rail": "0 off, 50 on" }, { mira: { truth: "0 off, 100 on" } });
    expect(list).toMatchObject([{ outcome: "missed", why: "The condition had been true before and did not become true anew." }]);
  });

  it("is served by the firing after which the rule still rests", () => {
    const rule = unlocks(turned("phone-mira", 1, 2), { restMs: min(20) });
    const { list } = wantedOf(rule, { "phone-mira": "0 off, 100 on, 105 off, 110 on" }, { mira: { truth: "0 off, 100 on, 105 off, 110 on" } });
    expect(list).toMatchObject([
      { outcome: "served", firingAt: min(100), delaySeconds: 0 },
      { outcome: "served", firingAt: min(100), delaySeconds: null, why: "Already acted 10 min before; the rule was at rest." },
    ]);
  });

  it("is verified when a witness outside the rule saw it too, be it some seconds apart", () => {
    const phone = { "phone-mira": "0 off, 101 on" };
    const truth = "0 off, 100 on";
    expect(wantedOf(byPhone, phone, { mira: { truth, outside: "0 off, 101 on" } }).list).toMatchObject([{ verified: true }]);
    expect(wantedOf(byPhone, phone, { mira: { truth } }).list).toMatchObject([{ verified: false }]);
  });

  it("is none where those outside the rule know that nobody came", () => {
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 101 on" }, { mira: { truth: "0 off, 100 on", outside: "0 off" } }).list).toEqual([]);
  });

  it("is only supported, not verified, by one witness outside the rule", () => {
    const arrival = "0 off, 100 on";
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 101 on" }, { mira: { truth: arrival, outside: arrival, basis: "one" } }).list).toMatchObject([{ verified: false }]);
  });

  it("is timed by those outside the rule: a phone that is nine minutes late does not move the arrival it missed", () => {
    const told = { mira: { truth: "0 off, 109 on", outside: "0 off, 100 on, 400 off" } };
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 109 on" }, told).list).toMatchObject([{ at: min(100), outcome: "missed", verified: true, delaySeconds: null }]);
  });

  it("is not counted when the history ends inside its window", () => {
    const { list, cutOff } = wantedOf(byPhone, { "phone-mira": "0 off" }, { mira: { truth: "0 off, 1439 on" } });
    expect(list).toEqual([]);
    expect(cutOff).toBe(1);
  });
});

describe("a departure the door should be locked after", () => {
  const locks = (more: Partial<RuleSpec> = {}): RuleSpec => ruleOf(is("phone-mira", 0, { heldMs: min(5) }), is("mira", 0), { act: "lock", ...more });

  it("is wanted only when they stay away for as long as the tolerance", () => {
    const told = { mira: { truth: "0 on, 100 off, 110 on, 200 off, 300 on" } };
    expect(wantedOf(locks(), { "phone-mira": "0 on, 100 off, 110 on, 200 off, 300 on" }, told).list).toMatchObject([{ at: min(200), outcome: "served", firingAt: min(205), delaySeconds: 300 }]);
  });

  it("is not served by a firing before they have left", () => {
    const { list } = wantedOf(locks(), { "phone-mira": "0 on, 90 off" }, { mira: { truth: "0 on, 100 off" } });
    expect(list).toMatchObject([{ outcome: "missed", why: "The condition had been true before and did not become true anew." }]);
  });

  it("is late after the tolerance, for as long as they stay away", () => {
    expect(wantedOf(locks(), { "phone-mira": "0 on, 150 off" }, { mira: { truth: "0 on, 100 off" } }).list).toMatchObject([{ outcome: "late", delaySeconds: 55 * 60 }]);
  });

  it("is not served by a firing before a rest: the door may have been opened since", () => {
    const { list } = wantedOf(locks({ restMs: min(60) }), { "phone-mira": "0 on, 100 off, 120 on, 130 off" }, { mira: { truth: "0 on, 100 off, 120 on, 130 off" } });
    expect(list).toMatchObject([{ outcome: "served" }, { outcome: "missed", why: "The rule was at rest after its firing 25 min before." }]);
  });
});

describe("an arrival confirmed only by sensors that are read every five minutes", () => {
  const told = { mira: { truth: "0 off, 105 on, 400 off", outside: "0 off, 105 on, 400 off", vouchers: ["tag-mira", "lamp-mira"] } };
  const outcomes = (phone: string, everyMinutes: number): WantedOutcomes => {
    const book = bookOf(told);
    const [outside, support, full] = [factsWithout(["phone-mira"], byPhone.rightWhen, book, 0, "verified"), factsWithout(["phone-mira"], byPhone.rightWhen, book, 0), factsWithout([], byPhone.rightWhen, book, 0)];
    return wantedOutcomes(byPhone, site, replay(byPhone, accountsOf({ "phone-mira": phone }), 0), { outside, support, full }, toleranceOf(byPhone, site), () => min(everyMinutes));
  };

  it("is not verified as served in time: it may have come five minutes before", () => {
    const { list } = outcomes("0 off, 105 on", 5);
    expect(list).toMatchObject([{ outcome: "served", verified: false, why: "Those who confirm it are read every 5 min: nobody can say whether it came in time." }]);
  });

  it("is verified when it was in time all the same, or when they tell it as it comes", () => {
    expect(outcomes("0 off, 104 on", 3).list).toMatchObject([{ outcome: "served", verified: true }]);
    expect(outcomes("0 off, 105 on", 0).list).toMatchObject([{ outcome: "served", verified: true }]);
  });

  it("is verified as missed whatever they are read by: it came no later than they say", () => {
    expect(outcomes("0 off, 390 on", 5).list).toMatchObject([{ outcome: "missed", verified: true }]);
  });
});

describe("stretches in which acting is wanted", () => {
  const minutes = (text: string, bridgeMinutes = 0): number[][] => wantedStretches(line(text), min(bridgeMinutes)).map(({ from, to }) => [from / min(1), to / min(1)]);

  it("begin with a known change, not with the period nor with the end of a silence", () => {
    expect(minutes("0 on, 10 off, 20 on, 30 off")).toEqual([[20, 30]]);
    expect(minutes("0 ?, 10 on, 20 off")).toEqual([]);
    expect(minutes("0 off, 10 on, 20 ?, 30 on, 40 off")).toEqual([[10, 40]]);
  });

  it("do not begin inside a silence that hid the change, unless it is short enough to be bridged", () => {
    expect(minutes("0 off, 10 ?, 20 on, 30 off")).toEqual([]);
    expect(minutes("0 off, 10 ?, 11 on, 30 off", 1)).toEqual([[11, 30]]);
  });

  it("end where it was last known to be so", () => {
    expect(minutes("0 off, 10 on, 20 ?, 30 off")).toEqual([[10, 20]]);
    expect(minutes("0 off, 10 on")).toEqual([[10, 1440]]);
  });
});
