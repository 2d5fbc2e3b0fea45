import { describe, expect, it } from "vitest";
import { householdCosts } from "../../src/judge/household-cost.js";
import { judgeRule } from "../../src/judge/judge.js";
import type { RuleSpec } from "../../src/site/site.js";
import { accountsOf, bookOf, is, min, over, ruleOf, siteOf, turned } from "./small-site.js";
import type { RuleJudgement } from "../../src/result/rules.js";

const site = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira", watch: "mira" } });
/** Thirty days: figures a month are figures of the history. */
const month = { from: 0, to: min(30 * 24 * 60) };
const accounts = accountsOf({ phone: "0 off, 601 on, 1200 off, 5000 on, 5060 off", watch: "0 on, 1260 off, 2000 on, 2060 off" }, [], month);
const truth = "0 off, 600 on, 1200 off, 1500 ?, 1530 off, 2000 on, 2130 off";
const book = bookOf({ mira: { truth, outside: truth } }, month);

const judged = (rule: Partial<RuleSpec>): RuleJudgement => judgeRule(over(site, ruleOf(is("phone", 1), turned("mira", 1, 2), rule), accounts, book, month));
const opens = judged({ name: "open" });
const closes = judged({ name: "close", act: "lock", when: is("watch", 0), rightWhen: is("mira", 0) });

describe("what a household pays for an opening and a closing rule", () => {
  const [cost] = householdCosts(site, [opens, closes], book, month);

  it("is the time open and empty between a firing of the one and the next of the other", () => {
    // Open from 601 to 1260, and from 5000 to the end, which nobody ever closes; Mira is away from 1200 and from 2130 on.
    expect(cost?.openHours).toBeCloseTo((1260 - 601 + 43_200 - 5000) / 60, 9);
    expect(cost?.openAndEmptyHours).toBeCloseTo((60 + 43_200 - 5000) / 60, 9);
    expect(cost?.openUnclearHours).toBe(0);
  });

  it("is standing before a closed door, waiting, and being shut out", () => {
    expect([opens.wanted.missed, cost?.lockedOut]).toEqual([1, 1]);
    expect(cost?.minutesWaited).toBe(1);
    expect([closes.firings.wrong, cost?.closedOnSomebody]).toEqual([1, 1]);
  });

  it("is told in one line", () => {
    expect(cost?.line).toBe('A month with “open” and “close”: unlocked for about 650 h, of which nobody was here for about 640 h; locked out once, about 1 min of waiting at the door, closed once while somebody was here.');
  });

  it("cannot be told where nothing closes, and says so", () => {
    expect(householdCosts(site, [opens], book, month)).toMatchObject([
      { opens: "open", closes: null, openHours: null, openAndEmptyHours: null, lockedOut: 1, line: 'A month with “open”: locked out once, about 1 min of waiting at the door; the site has no rule that closes again, so nobody can say how long it stands unlocked and empty.' },
    ]);
  });

  it("leaves out what nobody can tell, but says how much it is", () => {
    const unsure = bookOf({ mira: { truth: "0 off, 700 ?, 760 on" } }, month);
    expect(householdCosts(site, [opens, closes], unsure, month)[0]).toMatchObject({ openUnclearHours: 1 });
  });

  it("pairs disarming with arming, never with locking", () => {
    const disarm = { ...opens, name: "off", act: "disarm" as const };
    const arm = { ...closes, name: "on", act: "arm" as const };
    const pairs = householdCosts(site, [opens, closes, disarm, arm], book, month).map((one) => [one.opens, one.closes]);
    expect(pairs).toEqual([["open", "close"], ["off", "on"]]);
  });
});
