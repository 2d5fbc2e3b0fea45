import { describe, expect, it } from "vitest";
import { actedOn, countedStretches, servingOf } from "../../../src/judge/replay/acting.js";
import { accountsOf, bookOf, is, line, min, over, ruleOf, siteOf } from "../small-site.js";

const locks = { spec: ruleOf(is("phone", 0), is("mira", 0), { act: "lock" }), tolerance: { withinMs: min(15), earlyMs: 0 } };
const unlocks = { spec: ruleOf(is("phone", 1), is("mira", 1)), tolerance: { withinMs: min(15), earlyMs: min(5) } };
const wanted = { from: min(100), to: min(105) };
const fired = (...minutes: number[]): Parameters<typeof servingOf>[1] => ({ firings: minutes.map(min), rises: minutes.map((at) => ({ at: min(at), restedAfter: null })) });

describe("a wanted stretch of five minutes, with fifteen to act in", () => {
  it("is served by a firing while it is still wanted", () => {
    expect(servingOf(wanted, fired(104), locks)).toMatchObject({ outcome: "served", firingAt: min(104) });
  });

  it("is not served by one that comes when somebody is back, though it comes in time", () => {
    expect(servingOf(wanted, fired(105), locks)).toMatchObject({ outcome: "missed", firingAt: null });
    expect(servingOf(wanted, fired(110), locks)).toMatchObject({ outcome: "missed" });
  });

  it("is not served by a rise that a rest swallowed when it was no longer wanted", () => {
    const swallowed = { firings: [min(90)], rises: [{ at: min(90), restedAfter: null }, { at: min(106), restedAfter: min(90) }] };
    expect(servingOf(wanted, swallowed, unlocks)).toMatchObject({ outcome: "missed" });
    const inTime = { firings: [min(90)], rises: [{ at: min(90), restedAfter: null }, { at: min(104), restedAfter: min(90) }] };
    expect(servingOf(wanted, inTime, unlocks)).toMatchObject({ outcome: "served", byRest: true, firingAt: min(90) });
  });
});

describe("the ends of the window", () => {
  const long = { from: min(100), to: min(200) };
  const swallowedAt = (minute: number) => ({ firings: [min(80)], rises: [{ at: min(80), restedAfter: null }, { at: min(minute), restedAfter: min(80) }] });

  it("are in it: from as early as is forgiven to as late as is accepted", () => {
    expect(servingOf(long, fired(95), unlocks)).toMatchObject({ outcome: "served", firingAt: min(95) });
    expect(servingOf(long, fired(94), unlocks).outcome).toBe("missed");
    expect(servingOf(long, fired(115), unlocks)).toMatchObject({ outcome: "served", firingAt: min(115) });
    expect(servingOf(long, fired(116), unlocks)).toMatchObject({ outcome: "late", firingAt: min(116) });
  });

  it("are in it for what a rest swallowed, too", () => {
    expect(servingOf(long, swallowedAt(95), unlocks)).toMatchObject({ outcome: "served", byRest: true });
    expect(servingOf(long, swallowedAt(94), unlocks).outcome).toBe("missed");
    expect(servingOf(long, swallowedAt(115), unlocks)).toMatchObject({ outcome: "served", byRest: true });
    expect(servingOf(long, swallowedAt(116), unlocks)).toMatchObject({ outcome: "missed", restedAfter: null });
  });

  it("are in it for a lock, which a rest does not serve", () => {
    expect(servingOf(long, swallowedAt(115), locks)).toMatchObject({ outcome: "missed", restedAfter: min(80) });
  });

  it("are followed by late firings for as long as it is wanted, and no longer", () => {
    expect(servingOf(long, fired(199), unlocks)).toMatchObject({ outcome: "late", firingAt: min(199) });
    expect(servingOf(long, fired(200), unlocks)).toMatchObject({ outcome: "missed", firingAt: null });
  });

  it("hold the nearest firing, of two equally near the earlier", () => {
    expect(servingOf(long, fired(96, 101, 110), unlocks).firingAt).toBe(min(101));
    expect(servingOf(long, fired(97, 103), unlocks).firingAt).toBe(min(97));
  });
});

describe("wanted stretches that count", () => {
  const site = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira" }, limits: { unlock: { wrongPerYear: 1, missedShare: 0.1, withinMs: min(2) }, lock: { wrongPerYear: 1, missedShare: 0.1, withinMs: min(15) } } });
  const counted = (act: "unlock" | "lock", truth: string, outside = truth): ReturnType<typeof countedStretches> =>
    over(site, ruleOf(is("phone", 1), is("mira", 1), { act }), accountsOf({ phone: "0 off" }), bookOf({ mira: { truth, outside } })).wanted;
  const begins = (found: ReturnType<typeof countedStretches>): string[] => found.counted.map(({ from, verified }) => `${from / min(1)}${verified ? "" : " unverified"}`);

  it("have their whole window inside the history, its last instant included", () => {
    expect(counted("unlock", "0 off, 1438 on")).toMatchObject({ counted: [{ from: min(1438) }], cutOff: 0 });
    expect(counted("unlock", "0 off, 1438.5 on")).toMatchObject({ counted: [], cutOff: 1 });
  });

  it("last for the tolerance where the act shuts out, and for any time where it lets in", () => {
    expect(begins(counted("lock", "0 off, 100 on, 115 off, 200 on, 214 off"))).toEqual(["100"]);
    expect(begins(counted("unlock", "0 off, 100 on, 101 off"))).toEqual(["100"]);
  });

  it("are one where those outside the rule see the same instant up to ten minutes apart, and two beyond", () => {
    expect(begins(counted("unlock", "0 off, 100 on", "0 ?, 105 off, 110 on"))).toEqual(["110"]);
    expect(begins(counted("unlock", "0 off, 100 on", "0 ?, 105 off, 111 on"))).toEqual(["100 unverified", "111"]);
    expect(begins(counted("unlock", "0 off, 100 on", "0 off, 90 ?"))).toEqual(["100 unverified"]);
    expect(begins(counted("unlock", "0 off, 100 on", "0 off"))).toEqual([]);
  });
});

describe("a rest", () => {
  const risesOf = (text: string, restMinutes: number) => actedOn(line(text), min(restMinutes)).rises.map(({ at, restedAfter }) => [at / min(1), restedAfter === null ? null : restedAfter / min(1)]);

  it("swallows a rise before it is over, and not at its end", () => {
    expect(risesOf("0 off, 1 on, 2 off, 5 on, 5.5 off, 6 on, 7 off, 10 on", 5)).toEqual([[1, null], [5, 1], [6, null], [10, 6]]);
    expect(actedOn(line("0 off, 1 on, 2 off, 5 on, 5.5 off, 6 on"), min(5)).firings).toEqual([min(1), min(6)]);
  });

  it("is not prolonged by what it swallows", () => {
    expect(risesOf("0 off, 1 on, 2 off, 3 on, 4 off, 5 on, 6 off, 7 on", 5)).toEqual([[1, null], [3, 1], [5, 1], [7, null]]);
  });

  it("of no length swallows nothing", () => {
    expect(risesOf("0 off, 1 on, 2 off, 3 on", 0)).toEqual([[1, null], [3, null]]);
  });
});

describe("stretches in which acting is wanted", () => {
  const minutes = (truth: string, bridgeMinutes = 0): number[][] => {
    const site = siteOf({ subjects: { mira: "person" }, signals: { phone: "mira" }, bridgeMs: min(bridgeMinutes) });
    const rule = over(site, ruleOf(is("phone", 1), is("mira", 1)), accountsOf({ phone: "0 off" }), bookOf({ mira: { truth, outside: truth } }));
    return rule.wanted.counted.map(({ from, to }) => [from / min(1), to / min(1)]);
  };

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
