import { describe, expect, it } from "vitest";
import { witnessesOf } from "../../../src/judge/rule/facts.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import { causeGroups } from "../../../src/site/cause-groups.js";
import { judgeFiring, within, type FiringJudgement } from "../../../src/judge/replay/firing-outcomes.js";
import type { Expression } from "../../../src/site/expression.js";
import { allOf, anyOf, bookOf, is, line, min, ruleOf, siteOf, turned, type Told } from "../small-site.js";

const site = siteOf({
  subjects: { mira: "person", tom: "person", "yard-door": "door" },
  signals: { "phone-mira": "mira", "watch-mira": "mira", "phone-tom": "tom" },
  shares: { "phone-mira": ["hub"], "watch-mira": ["hub"] },
});

function judge(atMinute: number, earlyMinutes: number, rightWhen: Expression, told: Readonly<Record<string, Told>>): FiringJudgement {
  const prepared = prepareRule(site, ruleOf(is("phone-mira", 1), rightWhen));
  const witnesses = witnessesOf(prepared, { book: bookOf(told), groups: causeGroups(site.signals) });
  return judgeFiring(min(atMinute), { ...prepared, tolerance: { withinMs: min(2), earlyMs: min(earlyMinutes) }, witnesses });
}

const miraArrives = turned("mira", 1, 2);
const arrival = "0 off, 100 on, 300 off";

describe("a firing that should let someone in", () => {
  const seen = { mira: { truth: arrival, outside: arrival } };

  it("is right shortly after the arrival, and shortly before it", () => {
    expect(judge(101, 2, miraArrives, seen).outcome).toBe("right");
    expect(judge(98, 2, miraArrives, seen).outcome).toBe("right");
  });

  it("is wrong when a witness outside the rule knows that nobody arrived", () => {
    expect(judge(97, 2, miraArrives, seen)).toMatchObject({ outcome: "wrong", looks: "wrong", vouchers: ["mira-witness"] });
    expect(judge(200, 2, miraArrives, seen).outcome).toBe("wrong");
  });

  it("says who tells, and what", () => {
    expect(judge(101, 2, miraArrives, seen).why).toBe("Right: mira turned here within 2 min. Confirmed by mira-witness.");
    expect(judge(200, 2, miraArrives, seen).why).toBe("Wrong: mira turned here within 2 min (but this was false). Confirmed by mira-witness.");
  });

  it("is not verified by the rule's own signals, only told to look right", () => {
    expect(judge(101, 2, miraArrives, { mira: { truth: arrival } })).toMatchObject({
      outcome: "unverified",
      looks: "right",
      vouchers: [],
      why: "Neither the diary nor two sensors that the rule does not use can tell. With the rule's own sensors counted too, it looks right: mira turned here within 2 min.",
    });
    expect(judge(200, 2, miraArrives, { mira: { truth: arrival } })).toMatchObject({ outcome: "unverified", looks: "wrong" });
  });

  it("is neither right nor wrong while somebody it might have been for is unknown", () => {
    const either = anyOf(turned("mira", 1, 2), turned("tom", 1, 2));
    const told = { mira: { truth: "0 off", outside: "0 off" }, tom: { truth: "0 off, 90 ?, 110 off", outside: "0 off, 90 ?, 110 off" } };
    expect(judge(100, 2, either, told)).toMatchObject({ outcome: "unverified", looks: "unclear", why: "Neither the diary nor two sensors that the rule does not use can tell. All sensors together cannot tell either." });
    expect(judge(80, 2, either, told).outcome).toBe("wrong");
  });

  it("is not called wrong when the history ends before the arrival could", () => {
    expect(judge(24 * 60 - 1, 2, miraArrives, { mira: { truth: "0 off", outside: "0 off" } }).outcome).toBe("unverified");
    expect(judge(24 * 60 - 3, 2, miraArrives, { mira: { truth: "0 off", outside: "0 off" } }).outcome).toBe("wrong");
  });

  it("is vouched for by the diary where the diary speaks", () => {
    const { vouchers, why } = judge(101, 2, miraArrives, { mira: { truth: arrival, outside: arrival, basis: "diary", vouchers: [] } });
    expect(vouchers).toEqual(["diary"]);
    expect(why).toBe("Right: mira turned here within 2 min. Confirmed by the diary.");
  });

  it("tells when the outside witness hangs on the same hub as the rule", () => {
    expect(judge(101, 2, miraArrives, { mira: { truth: arrival, outside: arrival, vouchers: ["watch-mira"] } }).why).toBe(
      "Right: mira turned here within 2 min. Confirmed by watch-mira. Note: watch-mira shares hub with the rule's own sensors.",
    );
  });

  it("is only supported by one witness outside the rule", () => {
    const found = judge(101, 2, miraArrives, { mira: { truth: arrival, outside: arrival, basis: "one" } });
    expect(found).toMatchObject({ outcome: "unverified", supported: "right", vouchers: [] });
    expect(found.why).toMatch(/^One sensor that the rule does not use says that it was right; it takes two, or the diary\./);
    expect(judge(290, 2, miraArrives, { mira: { truth: arrival, outside: arrival, basis: "one" } })).toMatchObject({ outcome: "unverified", supported: "wrong" });
  });

  it("is not verified by a state the reference holds likely but nobody vouches for", () => {
    expect(judge(101, 2, miraArrives, { mira: { truth: arrival, outside: arrival, basis: "none" } }).outcome).toBe("unverified");
  });
});

describe("a firing that should shut everyone out", () => {
  const allAway = allOf(is("mira", 0), is("tom", 0));
  const told = { mira: { truth: "0 on, 100 off", outside: "0 on, 100 off" }, tom: { truth: "0 on, 110 off", outside: "0 on, 110 off" } };

  it("is right only once everyone has left: no time before is forgiven", () => {
    expect(judge(109, 0, allAway, told)).toMatchObject({ outcome: "wrong", why: "Wrong: tom is away (but this was false). Confirmed by tom-witness." });
    expect(judge(110, 0, allAway, told)).toMatchObject({ outcome: "right", vouchers: ["mira-witness", "tom-witness"] });
  });
});

describe("looking through a window", () => {
  const x = line("0 off, 10 on, 20 ?, 30 off");

  it("finds the first instant that is on, the window's ends included", () => {
    expect(within(x, min(5), min(10))).toEqual({ firstOn: min(10), offThroughout: false });
    expect(within(x, min(12), min(13))).toEqual({ firstOn: min(12), offThroughout: false });
  });

  it("knows off throughout from unknown in between", () => {
    expect(within(x, min(3), min(9))).toEqual({ firstOn: null, offThroughout: true });
    expect(within(x, min(20), min(40))).toEqual({ firstOn: null, offThroughout: false });
  });

  it("knows of the history's first instant", () => {
    expect(within(x, 0, min(5))).toEqual({ firstOn: null, offThroughout: true });
  });

  it("knows nothing of the time outside the history", () => {
    expect(within(x, min(-5), min(5))).toEqual({ firstOn: null, offThroughout: false });
    expect(within(x, min(1439), min(1440))).toEqual({ firstOn: null, offThroughout: false });
    expect(within(x, min(2000), min(2001))).toEqual({ firstOn: null, offThroughout: false });
  });
});
