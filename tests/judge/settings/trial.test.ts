import { describe, expect, it } from "vitest";
import { noDifference } from "../../../src/judge/settings/settings.js";
import { makeTrial } from "../../../src/judge/settings/trial.js";
import type { TrialOutcome } from "../../../src/judge/settings/trial.js";
import { accountsOf, bookOf, min, over, ruleOf, siteOf, turned } from "../small-site.js";

/**
 * Somebody comes at minute 100, leaves, and comes again at `again`. The rule unlocks at once and then rests for 8
 * minutes; an unlock up to 2 minutes early is in time. The trial gives it a rest of half an hour.
 */
function withLongRest(again: number, splitAt = min(1000)): { readonly train: TrialOutcome; readonly heldOut: TrialOutcome } {
  const comings = `0 off, 100 on, 104 off, ${again} on`;
  const site = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira" }, limits: { unlock: { wrongPerYear: 1, missedShare: 0.1, withinMs: min(2) } } });
  const rule = over(site, ruleOf(turned("phone", 1, 1), turned("mira", 1, 2), { restMs: min(8) }), accountsOf({ phone: comings }), bookOf({ mira: { truth: comings, outside: comings } }));
  const trial = makeTrial(rule, () => { throw new RangeError("no signal has a band"); }, splitAt);
  return trial({ ...noDifference, restMs: min(30) });
}

describe("a longer rest on trial", () => {
  it("has acted already where the firing is exactly as old as the present rest and an early unlock allow", () => {
    expect(withLongRest(110).train).toMatchObject({ firings: 1, wanted: 2, missed: 0 });
  });

  it("has missed what comes any later, since the door may be locked again", () => {
    expect(withLongRest(110 + 1 / 60_000).train).toMatchObject({ firings: 1, wanted: 2, missed: 1 });
  });

  it("gives no delay for what a rest served", () => {
    expect(withLongRest(110).train.delaysSeconds).toEqual([0]);
  });

  it("is counted on the side of the split on which it lies, at the split on the later one", () => {
    const { train, heldOut } = withLongRest(110, min(110));
    expect([train.wanted, heldOut.wanted]).toEqual([1, 1]);
    const early = withLongRest(110, min(100));
    expect([early.train.firings, early.heldOut.firings]).toEqual([0, 1]);
  });
});
