import { describe, expect, it } from "vitest";
import type { Expression } from "../../../src/site/expression.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { tuneRule } from "../../../src/judge/settings/tune.js";
import { accountsOf, allOf, anyOf, bookOf, is, min, over, ruleOf, siteOf, turned } from "../small-site.js";
import type { RuleTuning } from "../../../src/result/trials.js";

/** One day, tuned on its first 864 minutes (60 %). */
function tuned(when: Expression, phone: string, truth: string, more: Partial<RuleSpec> = {}, others: Readonly<Record<string, string>> = {}): RuleTuning {
  const site = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira", tag: "mira" }, shares: {} });
  const accounts = accountsOf({ phone, tag: "0 off", ...others });
  return tuneRule(over(site, ruleOf(when, turned("mira", 1, 4), more), accounts, bookOf({ mira: { truth, outside: truth } })), () => {
    throw new RangeError("no signal has a band");
  });
}

/** Minutes at which it turns on, each for so long. */
const visits = (...ons: readonly (readonly [number, number])[]): string => `0 off, ${ons.map(([at, minutes]) => `${at} on, ${at + minutes} off`).join(", ")}`;

// Somebody comes at 100, 400 (first part), 900 and 1200 (rest), for an hour. The phone flickers for a minute in between.
const truth = visits([100, 60], [400, 60], [900, 60], [1200, 60]);

describe("tuning a hold time", () => {
  it("suggests the one that keeps the flicker out, when it does so on the part that had no say too", () => {
    const phone = visits([100, 60], [250, 1], [300, 1], [400, 60], [900, 60], [1000, 1], [1200, 60]);
    const result = tuned(is("phone", 1, { heldMs: 40_000 }), phone, truth);
    expect(result.splitAt).toBe(min(864));
    expect(result.present).toMatchObject({ change: "as it stands", train: { firings: 4, wrong: 2, wanted: 2, missed: 0 }, heldOut: { firings: 3, wrong: 1, wanted: 2, missed: 0 } });
    expect(result.suggestion).toMatchObject({ change: "phone: held 1 min instead of 40 s", train: { wrong: 0, missed: 0 }, heldOut: { wrong: 0, missed: 0 } });
    expect(result.suggestion?.heldOut.wrongPerYear).toMatchObject({ value: 0, count: 0 });
    expect(result.suggestion?.heldOut.wrongPerYear.high).toBeGreaterThan(0);
    // To hold for 10 s is no worse in anything, and quicker.
    expect(result.presentOnFrontier).toBe(false);
    expect(result.frontier.map(({ change }) => change)).toContain("phone: held 10 s instead of 40 s");
    expect(result.why).toBe(
      '“phone: held 1 min instead of 40 s” was better on the first part of the history, and on the rest, which had no part in choosing it: ' +
        "1 wrong and 0 unconfirmed became 0 and 0, 0 of 2 missed or late became 0, usual delay 40 s became 60 s.",
    );
  });

  it("suggests nothing when the rest does not bear it out, and does not try the next best there", () => {
    const phone = visits([100, 60], [250, 1], [300, 1], [400, 60], [900, 60], [1200, 60]);
    const result = tuned(is("phone", 1, { heldMs: 40_000 }), phone, truth);
    expect(result.suggestion).toBeNull();
    expect(result.why).toBe(
      '“phone: held 1 min instead of 40 s” looked better on the first part of the history, but was not on the rest, which had no part in choosing it: ' +
        "0 wrong and 0 unconfirmed became 0 and 0, 0 of 2 missed or late became 0, usual delay 40 s became 60 s.",
    );
  });

  it("does not suggest to hold for a shorter time merely because that is quicker", () => {
    const result = tuned(is("phone", 1, { heldMs: 80_000 }), truth, truth);
    expect(result.frontier[0]).toMatchObject({ change: "phone: held 20 s instead of 1 min 20 s", train: { wrong: 0, missed: 0 } });
    expect(result.suggestion).toBeNull();
    expect(result.why).toMatch(/On the first part of the history, no setting tried had fewer wrong, unconfirmed, missed or late than the present one without more of another\./);
  });
});

describe("tuning how many must agree", () => {
  it("does not try a number by which one more signal alone could open", () => {
    const result = tuned(allOf(is("phone", 1), is("tag", 1)), truth, truth, {}, { tag: "0 off" });
    // Any one of the two would serve everybody, and either alone could then open. Only the rest is left to try.
    expect(result.tried).toBe(3);
    expect(result.suggestion).toBeNull();
  });

  it("suggests that both must agree where one of them lies", () => {
    const result = tuned(anyOf(is("phone", 1), is("tag", 1)), truth, truth, {}, { tag: visits([100, 60], [300, 5], [400, 60], [900, 60], [1000, 5], [1200, 60]) });
    expect(result.suggestion).toMatchObject({ change: "at least 2 instead of 1 of (phone is here; tag is here)", train: { wrong: 0 }, heldOut: { wrong: 0 } });
  });
});

describe("tuning a rest", () => {
  it("does not take what a longer rest swallows for served", () => {
    // The phone is here twice in twenty minutes, and both times somebody really comes.
    const twice = visits([100, 5], [115, 5], [900, 5], [915, 5]);
    const result = tuned(is("phone", 1), twice, twice, { restMs: min(5) });
    const longer = result.frontier.map((one) => one.change);
    expect(result.present.train).toMatchObject({ firings: 2, wanted: 2, missed: 0 });
    expect(longer).toEqual(["as it stands"]);
  });
});

describe("tuning with nothing to go by", () => {
  it("says so", () => {
    expect(tuned(is("phone", 1), "0 off", "0 off").why).toBe("Nothing was wanted and nothing fired in the first part of the history, so there is nothing to choose by.");
  });
});
