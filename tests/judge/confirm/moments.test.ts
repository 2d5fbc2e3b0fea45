import { describe, expect, test } from "vitest";
import { ruleStakes, unverifiedMoments } from "../../../src/judge/confirm/moments.js";
import { askedRows } from "../../../src/judge/confirm/rows.js";
import { distance, stakeOf, type JudgedRule } from "../../../src/judge/confirm/stakes.js";
import { toConfirm } from "../../../src/judge/confirm/to-confirm.js";
import { judgeRule } from "../../../src/judge/judge.js";
import type { RuleOverHistory } from "../../../src/judge/replay/replay.js";
import { accountsOf, anyOf, bookOf, is, line, min, over, ruleOf, siteOf, turned, type Told } from "../small-site.js";
import type { Stake } from "../../../src/result/witnesses.js";
import type { ReferenceBook, ReferenceSegment } from "../../../src/truth/reference/reference.js";

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

  test("of equals that look alike the earlier comes first, whichever rule it is of", () => {
    const fires = (name: string, first: number, second: number): JudgedRule => {
      const told = `0 off, ${first} on, ${first + 60} off, ${second} on, ${second + 60} off`;
      return judgedBy(over(site, { ...rule, name }, accountsOf({ phone: told }), bookOf({ mira: { truth: told } })));
    };
    expect(unverifiedMoments([fires("front", 100, 900), fires("back", 300, 600)]).map(({ at }) => at / min(1))).toEqual([100, 300, 600, 900]);
  });

  test("of equals what looks wrong comes before what nobody can tell, and that before what looks right", () => {
    const lane = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira" }, limits: { lock: { wrongPerYear: 1000, missedShare: 0.5, withinMs: min(2) } } });
    const shut = { ...rule, act: "lock" as const, rightWhen: is("mira", 0) };
    // Away at 100, unclear at 500, at home at 900; nobody is known to have just gone, so nothing is wanted there.
    const judged = judgedBy(over(lane, shut, accounts, bookOf({ mira: { truth: "0 off, 400 ?, 800 on" } })));
    const found = unverifiedMoments([judged]).filter(({ sort }) => sort === "firing");
    expect(found.map(({ looks, at }) => [looks, at / min(1)])).toEqual([["wrong", 900], ["unclear", 500], ["right", 100]]);
    expect(new Set(found.map(({ moves }) => moves)).size).toBe(1);
  });

  describe("of two rules", () => {
    const judgedAt = (act: "unlock" | "lock", wrongPerYear: number, truth: string): JudgedRule => {
      const own = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira" }, limits: { [act]: { wrongPerYear, missedShare: 0.5, withinMs: min(2) } } });
      return judgedBy(over(own, { ...rule, act, name: `${act} at ${wrongPerYear}` }, accountsOf({ phone: "0 off, 500 on" }), bookOf({ mira: { truth } })));
    };
    const order = (...all: JudgedRule[]): [string, boolean][] => unverifiedMoments(all).map((one) => [one.rule, one.changesVerdict]);
    const [looksRight, looksWrong] = ["0 off, 500 on", "0 off"];

    test("the one whose bound moves by more of its limit is asked about first, whatever its firing looks like", () => {
      expect(order(judgedAt("unlock", 1000, looksWrong), judgedAt("unlock", 100, looksRight))).toEqual([["unlock at 100", false], ["unlock at 1000", false]]);
    });

    test("the one whose verdict hangs on it comes before one whose bounds move further", () => {
      // The unlocking one may not be enabled in any case: its one phone can open by lying alone.
      expect(order(judgedAt("unlock", 1, looksWrong), judgedAt("lock", 10, looksWrong))).toEqual([["lock at 10", true], ["unlock at 1", false]]);
    });
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

/** Others could tell at nearly any time, but never when it fired, five times: no chance explains that. */
function neverTold(): JudgedRule {
  const phone = "0 off, 100 on, 200 off, 300 on, 400 off, 500 on, 600 off, 700 on, 800 off, 900 on";
  const outside = "0 off, 99 ?, 101 off, 299 ?, 301 off, 499 ?, 501 off, 699 ?, 701 off, 899 ?, 901 off";
  return judgedBy(over(site, rule, accountsOf({ phone }), bookOf({ mira: { truth: phone, outside } })));
}

describe("stakes", () => {
  test("of firings taken as wrong, one found right lowers the upper bound by one count, one found wrong raises the lower", () => {
    const judged = neverTold();
    const [now, right, wrong] = [stakeOf(judged, {}), stakeOf(judged, { right: 1 }), stakeOf(judged, { wrong: 1 })];
    expect(now.wrongUpper).toBe(judged.judgement.bounds.wrongUpper);
    expect(right.wrongUpper!).toBeLessThan(now.wrongUpper!);
    expect(wrong.wrongUpper).toBe(now.wrongUpper);
    expect(wrong.wrongLower).toBeGreaterThan(now.wrongLower);
  });

  test("of firings that count neither way, one found right moves no bound of wrong ones, one found wrong raises both", () => {
    // Nobody could tell for a third of each hour in which it fired.
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on", outside: "0 off, 85 ?, 105 off, 490 ?, 510 off, 900 ?, 920 off" });
    const [now, right, wrong] = [stakeOf(judged, {}), stakeOf(judged, { right: 1 }), stakeOf(judged, { wrong: 1 })];
    expect(now.wrongUpper).not.toBeNull();
    expect([right.wrongUpper, right.wrongLower]).toEqual([now.wrongUpper, now.wrongLower]);
    expect(wrong.wrongUpper!).toBeGreaterThan(now.wrongUpper!);
    expect(wrong.wrongLower).toBeGreaterThan(now.wrongLower);
  });

  test("stay at any number where an hour of the day was never confirmed, whatever memory says", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    expect([stakeOf(judged, {}), stakeOf(judged, { right: 3 }), stakeOf(judged, { wrong: 3 })].map((one) => one.wrongUpper)).toEqual([null, null, null]);
  });

  test("the rule as a whole: all right, all wrong, and how many right would change the verdict", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    const stakes = ruleStakes(judged);
    expect(stakes).toMatchObject({ unverifiedFirings: 3, now: { verdict: judged.judgement.verdict } });
    // A single phone can open by lying alone: no memory of anything clears that.
    expect(stakes.ifAllRight.verdict).toBe("do not enable");
    expect(stakes.fewestRight).toBeNull();
  });

  test("said in words, but for what the figures do not show", () => {
    const judged = neverTold();
    expect(toConfirm(site, [judged]).rows[0]!.moves).toMatch(/^the rule #1: if right, at most \S+ instead of \S+ wrong a year, the verdict stays; if wrong, at least \S+ instead of 0 wrong a year.*, the verdict stays\.$/);
    const unconfirmed = asked({ truth: "0 off, 100 on, 300 off, 500 on, 700 off, 900 on" });
    expect(toConfirm(site, [unconfirmed]).rows[0]!.moves).toContain("if right, no bound moves, the verdict stays;");
  });
});

describe("how far two stakes are apart", () => {
  const stake = (more: Partial<Stake>): Stake => ({ verdict: "not proven yet", wrongUpper: 10, wrongLower: 2, missedUpper: 0.5, missedLower: 0.1, ...more });
  const limits = { wrongPerYear: 4, missedShare: 0.25, withinMs: min(2) };

  test("is the largest change of a bound, in limits", () => {
    expect(distance(stake({}), stake({}), limits)).toBe(0);
    expect(distance(stake({}), stake({ wrongUpper: 6, wrongLower: 1 }), limits)).toBe(1);
    expect(distance(stake({}), stake({ wrongLower: 10 }), limits)).toBe(2);
    expect(distance(stake({}), stake({ wrongUpper: 6, missedUpper: 1 }), limits)).toBe(2);
    expect(distance(stake({ missedLower: 0 }), stake({ missedLower: 0.25 }), limits)).toBe(1);
  });

  test("takes a bound that is any number for none, whichever of the two has it", () => {
    expect(distance(stake({ wrongUpper: null }), stake({ wrongUpper: 8 }), limits)).toBe(2);
    expect(distance(stake({ wrongUpper: 8 }), stake({ wrongUpper: null }), limits)).toBe(2);
    expect(distance(stake({ wrongUpper: null }), stake({ wrongUpper: null }), limits)).toBe(0);
  });

  test("is the change itself without a limit, and with a limit of 0", () => {
    expect(distance(stake({}), stake({ wrongUpper: 6 }), null)).toBe(4);
    expect(distance(stake({}), stake({ wrongUpper: 6 }), { ...limits, wrongPerYear: 0 })).toBe(4);
    expect(distance(stake({}), stake({ missedUpper: 1 }), { ...limits, missedShare: 0 })).toBe(0.5);
  });
});

describe("askedRows", () => {
  test("of one moment come in the site's order of subjects, whatever order the rule names them in", () => {
    const both = siteOf({ subjects: { tom: "person", mira: "person" }, signals: { phone: "mira" } });
    const judged = judgedBy(over(both, { ...rule, rightWhen: anyOf(is("mira", 1), is("tom", 1)) }, accountsOf({ phone: "0 off, 500 on" }), bookOf({ mira: { truth: "0 off, 500 on" }, tom: { truth: "0 off" } })));
    const rows = askedRows(both, [judged], unverifiedMoments([judged]));
    expect(rows.map(({ subject, from }) => [subject, from / min(1)])).toEqual([["tom", 499], ["mira", 499], ["mira", 500]]);
  });

  test("come in the order of the moments that need them, not in that of time", () => {
    const judged = asked({ truth: "0 off, 100 on, 300 off, 700 off, 900 on" });
    const rows = askedRows(site, [judged], unverifiedMoments([judged]));
    expect(rows.map(({ from }) => from / min(1))).toEqual([497, 97, 100, 897, 900]);
  });

  describe("where nobody vouches", () => {
    /** The rows asked of minute 500 by a book that tells of mira's day in these segments. */
    const rowsOver = (...told: readonly (readonly [from: number, to: number, state: 0 | 1, basis: ReferenceSegment["basis"]])[]): number[][] => {
      const judged = asked({ truth: "0 off, 500 on" });
      const segments = told.map(([from, to, state, basis]): ReferenceSegment => ({ from: min(from), to: min(to), state, probability: 0.6, basis, vouchers: [] }));
      const book: ReferenceBook = (subject, excluding) => ({ subject, excluding, timeline: line("0 ?"), segments });
      const unsure = { ...judged, rule: { ...judged.rule, history: { ...judged.rule.history, book } } };
      return askedRows(site, [unsure], unverifiedMoments([judged]).filter(({ at }) => at === min(500))).map(({ from, to }) => [from / min(1), to / min(1)]);
    };

    test("a row is not cut where only the most likely state changes", () => {
      expect(rowsOver([0, 500, 0, "none"], [500, 1440, 1, "none"])).toEqual([[497, 503]]);
    });

    test("two rows do not become one across time that the diary covers", () => {
      expect(rowsOver([0, 498, 0, "none"], [498, 501, 1, "diary"], [501, 1440, 0, "none"])).toEqual([[497, 498], [501, 503]]);
    });
  });

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
