import { describe, expect, it } from "vitest";
import { wantedOutcomes, type WantedOutcome } from "../../../src/judge/replay/wanted-outcomes.js";
import type { Expression } from "../../../src/site/expression.js";
import type { RuleSpec } from "../../../src/site/site.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { accountsOf, bookOf, is, min, over, ruleOf, siteOf, turned, type Told } from "../small-site.js";

const site = siteOf({
  subjects: { mira: "person", "yard-door": "door" },
  signals: { "phone-mira": "mira", "door-rail": "yard-door" },
  limits: { lock: { wrongPerYear: 2, missedShare: 0.1, withinMs: min(15) } },
});

function wantedOf(rule: RuleSpec, histories: Readonly<Record<string, string | Timeline>>, told: Readonly<Record<string, Told>>): { readonly list: WantedOutcome[]; readonly cutOff: number } {
  const prepared = over(site, rule, accountsOf(histories), bookOf(told));
  return { list: wantedOutcomes(prepared), cutOff: prepared.wanted.cutOff };
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
    expect(list).toMatchObject([{ outcome: "late", firingAt: min(104), delaySeconds: 240 }]);
  });

  it("is missed when the firing comes too late to be any good, or not at all", () => {
    const told = { mira: { truth: "0 off, 100 on" } };
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 106 on" }, told).list).toMatchObject([{ outcome: "missed", firingAt: null, delaySeconds: null }]);
    expect(wantedOf(byPhone, { "phone-mira": "0 off" }, told).list).toMatchObject([{ outcome: "missed" }]);
  });

  it("is served by the firing after which the rule still rests", () => {
    const rule = unlocks(turned("phone-mira", 1, 2), { restMs: min(20) });
    const { list } = wantedOf(rule, { "phone-mira": "0 off, 100 on, 105 off, 110 on" }, { mira: { truth: "0 off, 100 on, 105 off, 110 on" } });
    expect(list).toMatchObject([
      { outcome: "served", firingAt: min(100), delaySeconds: 0 },
      { outcome: "served", firingAt: min(100), delaySeconds: null, why: "It had already acted 10 min before and was resting." },
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
    expect(list).toMatchObject([{ outcome: "missed" }]);
  });

  it("is late after the tolerance, for as long as they stay away", () => {
    expect(wantedOf(locks(), { "phone-mira": "0 on, 150 off" }, { mira: { truth: "0 on, 100 off" } }).list).toMatchObject([{ outcome: "late", delaySeconds: 55 * 60 }]);
  });

  it("is not served by a firing before a rest: the door may have been opened since", () => {
    const { list } = wantedOf(locks({ restMs: min(60) }), { "phone-mira": "0 on, 100 off, 120 on, 130 off" }, { mira: { truth: "0 on, 100 off, 120 on, 130 off" } });
    expect(list).toMatchObject([{ outcome: "served" }, { outcome: "missed", why: "", restedAfter: expect.any(Number) as number }]);
  });
});

const changes = (minutes: readonly number[]): string => ["0 off", ...minutes.map((at, i) => `${at} ${i % 2 === 0 ? "on" : "off"}`)].join(", ");

describe("an arrival confirmed only by sensors that are read every five minutes", () => {
  const told = { mira: { truth: "0 off, 105 on, 400 off", outside: "0 off, 105 on, 400 off", vouchers: ["tag-mira", "lamp-mira"] } };
  /** The tag changes on a grid of so many minutes, or whenever it likes; the lamp as it comes. */
  const outcomes = (phone: string, tag: string): { readonly list: WantedOutcome[] } => wantedOf(byPhone, { "phone-mira": phone, "tag-mira": tag, "lamp-mira": "0 off, 105 on, 400 off" }, told);
  const everyFive = changes([5, 20, 45, 100, 110, 235, 300, 410, 555, 600, 640]);
  const everyMinute = changes([6, 21, 43, 101, 112, 237, 304, 411, 557, 603, 649]);
  const asItComes = changes([5.1, 20.37, 45.02, 100.9, 110.4, 235.6, 300.2, 410.8, 555.3, 600.7, 640.1]);

  it("is not verified as served in time: it may have come five minutes before", () => {
    const { list } = outcomes("0 off, 105 on", everyFive);
    expect(list).toMatchObject([{ outcome: "served", verified: false, why: "The sensors that confirm it report only every 5 min, so nobody can say whether it came in time." }]);
  });

  it("is verified when it was in time all the same, or when they tell it as it comes", () => {
    expect(outcomes("0 off, 106 on", everyMinute).list).toMatchObject([{ outcome: "served", verified: true }]);
    expect(outcomes("0 off, 107 on", asItComes).list).toMatchObject([{ outcome: "served", verified: true }]);
  });

  it("is verified where their changes are too few to show a grid, or nothing is known of how they are read", () => {
    const few = changes([5, 20, 45, 100, 110, 235, 300, 410, 555]);
    expect(outcomes("0 off, 106 on", few).list).toMatchObject([{ outcome: "served", verified: true }]);
    const tenth = changes([5, 20, 45, 100, 110, 235, 300, 410, 555, 600]);
    expect(outcomes("0 off, 106 on", tenth).list).toMatchObject([{ outcome: "served", verified: false }]);
    const untold = { mira: { ...told.mira, vouchers: ["diary"] } };
    expect(wantedOf(byPhone, { "phone-mira": "0 off, 106 on" }, untold).list).toMatchObject([{ outcome: "served", verified: true }]);
  });

  it("is verified as missed whatever they are read by: it came no later than they say", () => {
    expect(outcomes("0 off, 390 on", everyFive).list).toMatchObject([{ outcome: "missed", verified: true }]);
  });
});
