import { describe, expect, it } from "vitest";
import { prepareRule, standardOf } from "../../../src/judge/rule/prepare.js";
import type { Act } from "../../../src/site/site.js";
import { allOf, is, min, no, ruleOf, siteOf } from "../small-site.js";

const site = siteOf({
  subjects: { mira: "person", door: "door" },
  signals: { phone: "mira", rail: "door", hinge: "door" },
  shares: { rail: ["board", "hub"], hinge: ["board"] },
  limits: { disarm: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: min(3) }, lock: { wrongPerYear: 2, missedShare: 0.2, withinMs: min(15) } },
});
const prepared = (act: Act): ReturnType<typeof prepareRule> => prepareRule(site, ruleOf(allOf(is("rail", 1), no(is("phone", 0)), is("rail", 1)), is("mira", 1), { act }));

describe("a rule, prepared", () => {
  it("is held to the limits of its act, at the site's confidence", () => {
    expect(prepared("lock").standard).toEqual({ act: "lock", limits: site.limits.lock, confidence: 0.95 });
    expect(standardOf(site, "arm")).toEqual({ act: "arm", limits: null, confidence: 0.95 });
  });

  it("may be early only where it lets someone in, and has two minutes where no limit says otherwise", () => {
    expect(prepared("disarm").tolerance).toEqual({ withinMs: min(3), earlyMs: min(3) });
    expect(prepared("unlock").tolerance).toEqual({ withinMs: min(2), earlyMs: min(2) });
    expect(prepared("lock").tolerance).toEqual({ withinMs: min(15), earlyMs: 0 });
    expect(prepared("arm").tolerance).toEqual({ withinMs: min(2), earlyMs: 0 });
  });

  it("knows its signals once each, its claims in the order of the condition, and who shares what", () => {
    const { signals, leaves, causesOf, signalsOf } = prepared("lock");
    expect(signals).toEqual(["phone", "rail"]);
    expect(leaves.map(({ claim, holdsIn }) => [claim.signal, holdsIn])).toEqual([["rail", 1], ["phone", 0], ["rail", 1]]);
    expect([causesOf("rail"), causesOf("phone"), causesOf("ghost")]).toEqual([["board", "hub"], [], []]);
    expect([signalsOf("board"), signalsOf("hub"), signalsOf("ghost")]).toEqual([["rail", "hinge"], ["rail"], []]);
  });
});
