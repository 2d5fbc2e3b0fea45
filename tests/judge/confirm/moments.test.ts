import { describe, expect, test } from "vitest";
import { ruleStakes, unverifiedMoments } from "../../../src/judge/confirm/moments.js";
import { askedRows } from "../../../src/judge/confirm/rows.js";
import { stakeOf, type JudgedRule } from "../../../src/judge/confirm/stakes.js";
import { toConfirm } from "../../../src/judge/confirm/to-confirm.js";
import { judgeRule } from "../../../src/judge/judge.js";
import type { RuleOverHistory } from "../../../src/judge/replay/replay.js";
import { accountsOf, bookOf, min, over, ruleOf, siteOf, turned, type Told } from "../small-site.js";

const site = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira" }, limits: { unlock: { wrongPerYear: 1000, missedShare: 0.5, withinMs: min(2) } } });
const rule = ruleOf(turned("phone", 1, 1), turned("mira", 1, 2));
const accounts = accountsOf({ phone: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });

const judgedBy = (prepared: RuleOverHistory): JudgedRule => ({ rule: prepared, judgement: judgeRule(prepared) });

/** What the phone says of mira at 100, 500 and 900 minutes, judged with what others know of her. */
function asked(told: Told): JudgedRule {
  return judgedBy(over(site, rule, accounts, bookOf({ mira: told })));
}

describe("unverifiedMoments", () => {
  test("a rule whose own signal is the only witness is unverified throughout", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    expect(unverifiedMoments([judged]).map(({ sort, at }) => [sort, at / min(1)])).toEqual([["firing", 100], ["firing", 500], ["firing", 900]]);
  });

  test("what looks wrong is asked first: memory has most to say there", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 700 off, 900 on" });
    expect(unverifiedMoments([judged]).map(({ looks, at }) => [looks, at / min(1)])).toEqual([["wrong", 500], ["right", 100], ["right", 900]]);
  });

  test("what the diary settled is not asked", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on", outside: "0 off, 100 on, 300 off, 450 ?", basis: "diary" });
    expect(unverifiedMoments([judged]).map(({ at }) => at / min(1))).toEqual([500, 900]);
  });

  test("a wanted instant without a firing is a moment of its own", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 400 on, 420 off, 500 on, 700 off, 900 on" });
    const wanted = unverifiedMoments([judged]).filter(({ sort }) => sort === "wanted");
    expect(wanted.map(({ at }) => at / min(1))).toEqual([400]);
    // Were it none, nothing missed would be known for certain.
    expect(wanted[0]!.ifNot.missedLower).toBeLessThan(wanted[0]!.ifSo.missedLower);
  });
});

describe("stakes", () => {
  test("a firing found right lowers the upper bound by one count, one found wrong raises the lower", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    const [now, right, wrong] = [stakeOf(judged, {}), stakeOf(judged, { right: 1 }), stakeOf(judged, { wrong: 1 })];
    expect(now.wrongUpper).toBe(judged.judgement.bounds.wrongUpper);
    expect(right.wrongUpper!).toBeLessThan(now.wrongUpper!);
    expect(wrong.wrongUpper).toBe(now.wrongUpper);
    expect(wrong.wrongLower).toBeGreaterThan(now.wrongLower);
  });

  test("the rule as a whole: all right, all wrong, and how many right would change the verdict", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    const stakes = ruleStakes(judged);
    expect(stakes).toMatchObject({ unverifiedFirings: 3, now: { verdict: judged.judgement.verdict } });
    // A single phone can open by lying alone: no memory of anything clears that.
    expect(stakes.ifAllRight.verdict).toBe("do not enable");
    expect(stakes.fewestRight).toBeNull();
  });

  test("said in words", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    expect(toConfirm(site, [judged]).rows[0]!.moves).toMatch(/^the rule #1: if right, at most \S+ instead of \S+ wrong a year, the verdict stays; if wrong, at least \S+ instead of 0 wrong a year.*, the verdict stays\.$/);
  });
});

describe("askedRows", () => {
  test("rows cover what the facts look at and are cut where the witnesses saw a change", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    const rows = askedRows(site, [judged], unverifiedMoments([judged]));
    // Two minutes back for "turned within", a minute around, two minutes of tolerance ahead.
    expect(rows.slice(0, 2).map(({ subject, from, to }) => [subject, from / min(1), to / min(1)])).toEqual([["mira", 97, 100], ["mira", 100, 103]]);
    expect(rows).toHaveLength(6);
  });

  test("rows of moments close together do not overlap", () => {
    const close = accountsOf({ phone: "0 off, 100 on, 101 off, 102 on, 300 off" });
    const judged = judgedBy(over(site, rule, close, bookOf({ mira: { truth: "0 off, 100 on, 300 off" } })));
    const rows = askedRows(site, [judged], unverifiedMoments([judged])).toSorted((a, b) => a.from - b.from);
    expect(rows.length).toBeGreaterThan(1);
    rows.slice(1).forEach((row, i) => expect(row.from).toBeGreaterThanOrEqual(rows[i]!.to));
    expect(rows.some((row) => row.moments.length === 2)).toBe(true);
  });

  test("each row says which words may be written", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    expect(toConfirm(site, [judged]).rows[0]!.words).toEqual(["here", "away"]);
  });
});
