import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drillRule } from "../../../src/judge/drills/drill.js";
import { makeFaultedHistories } from "../../../src/judge/drills/faults.js";
import { accountsOf, allOf, bookOf, is, min, no, over, ruleOf, siteOf, turned } from "../small-site.js";
import { expressions, shortDay, signalNames, timelines } from "./arbitrary.js";
import { slowlyFaulted } from "./brute-force.js";
import { replayedDrill, targetsOf } from "./replayed-drill.js";
import { type Drill, faults } from "../../../src/result/trials.js";

const shares = { a: ["board"], b: ["board", "hub"], c: ["hub"] };

describe("a drill", () => {
  it("is what comes of replaying everything with the fault put in instant by instant", () => {
    let compared = 0;
    fc.assert(
      fc.property(
        fc.record({
          when: expressions(signalNames),
          rightWhen: expressions(["home"]),
          histories: fc.tuple(timelines, timelines, timelines),
          truth: timelines,
          outside: timelines,
          act: fc.constantFrom("unlock" as const, "lock" as const),
          restMs: fc.constantFrom(0, min(5), min(30)),
          bridgeMs: fc.constantFrom(0, min(1), min(5)),
          barrier: fc.option(fc.integer({ min: 0, max: 170 })),
        }),
        ({ when, rightWhen, histories, truth, outside, act, restMs, bridgeMs, barrier }) => {
          const site = siteOf({ subjects: { home: "person" }, signals: { a: "home", b: "home", c: "home" }, shares, bridgeMs });
          const restarts = barrier === null ? [] : [{ from: min(barrier), to: min(barrier + 7), cause: "board" }];
          const accounts = accountsOf({ a: histories[0], b: histories[1], c: histories[2] }, restarts, shortDay);
          const book = bookOf({ home: { truth, outside } }, shortDay);
          const rule = ruleOf(when, rightWhen, { act, restMs });
          const prepared = over(site, rule, accounts, book, shortDay);
          const drills = drillRule(prepared, makeFaultedHistories());
          expect(drills).toEqual(targetsOf(prepared).flatMap((target) => faults.map((fault) => replayedDrill(slowlyFaulted, target, fault, prepared))));
          compared += drills.length;
        },
      ),
      { numRuns: 150 },
    );
    expect(compared).toBeGreaterThan(3_000);
  });
});

const find = (drills: readonly Drill[], name: string, fault: Drill["fault"]): Drill | undefined => drills.find((one) => one.name === name && one.fault === fault);

describe("a restart drill", () => {
  // The bay is occupied from 06:00 to 18:00, and somebody arrives at 06:00 only.
  const site = siteOf({ subjects: { mira: "person", bay: "bay" }, signals: { meter: "bay" }, shares: { meter: ["board"] } });
  const accounts = accountsOf({ meter: "0 off, 360 on, 1080 off" });
  const book = bookOf({ mira: { truth: "0 off, 360 on, 1080 off", outside: "0 off, 360 on, 1080 off" } });
  const rightWhen = turned("mira", 1, 15);

  it("catches a rule written naively, as not empty: it unlocks whenever the board comes back to an occupied bay", () => {
    const drills = drillRule(over(site, ruleOf(no(is("meter", 0)), rightWhen), accounts, book), makeFaultedHistories());
    // 30 min + 61 min each: the 7th of the restarts is the first, the 18th is the last to come while the bay is occupied.
    expect(find(drills, "board", "restart")).toMatchObject({ firings: 13, gained: 12, lost: 0, wrongGained: 12, missedGained: 0 });
  });

  it("does nothing to a rule that asks for a turn", () => {
    const drills = drillRule(over(site, ruleOf(turned("meter", 1, 2), rightWhen), accounts, book), makeFaultedHistories());
    expect(find(drills, "board", "restart")).toMatchObject({ firings: 1, gained: 0, lost: 0 });
  });
});

describe("faults that keep a rule from acting", () => {
  const site = siteOf({ subjects: { mira: "person", yard: "door" }, signals: { phone: "mira", rail: "yard" }, shares: { phone: ["hub"] } });
  const accounts = accountsOf({ phone: "0 off, 360 on, 720 off, 960 on", rail: "0 off, 359 on, 365 off, 959 on, 965 off" });
  const truth = "0 off, 360 on, 720 off, 960 on";
  const book = bookOf({ mira: { truth, outside: truth } });
  const rule = ruleOf(allOf(turned("phone", 1, 5), is("rail", 1)), turned("mira", 1, 15));
  const drills = drillRule(over(site, rule, accounts, book), makeFaultedHistories());

  it("counts what is no longer served as missed", () => {
    expect(find(drills, "rail", "stuck off")).toEqual({ on: "signal", name: "rail", fault: "stuck off", firings: 0, gained: 0, lost: 2, wrongGained: 0, unverifiedGained: 0, missedGained: 2 });
    expect(find(drills, "phone", "silent")).toMatchObject({ firings: 0, lost: 2, missedGained: 2 });
  });

  it("does not count a firing as lost that only came a minute later, within the tolerance", () => {
    expect(find(drills, "phone", "late by 1 min")).toMatchObject({ firings: 2, gained: 0, lost: 0, missedGained: 0 });
    expect(find(drills, "phone", "late by 15 min")).toMatchObject({ firings: 0, lost: 2, missedGained: 2 });
  });

  it("lists each signal of the rule and each shared cause of one, and nothing else", () => {
    expect([...new Set(drills.map(({ on, name }) => `${on} ${name}`))]).toEqual(["signal phone", "signal rail", "cause hub"]);
  });
});
