import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { replay, type Replay } from "../../../src/judge/replay/replay.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import type { Expression } from "../../../src/site/expression.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { ON, type Timeline, type TruthState } from "../../../src/timeline/timeline.js";
import { accountsOf, allOf, anyOf, is, min, no, ruleOf, siteOf, turned } from "../small-site.js";

function replayed(rule: RuleSpec, accounts: ReturnType<typeof accountsOf>, bridgeMs = 0): Replay {
  return replay(prepareRule(siteOf({ subjects: {}, bridgeMs }), rule), accounts);
}

function firings(when: Expression, histories: Readonly<Record<string, string | Timeline>>, restMinutes = 0): number[] {
  return replayed(ruleOf(when, when, { restMs: min(restMinutes) }), accountsOf(histories)).firings.map((at) => at / min(1));
}

describe("a rule replayed", () => {
  it("fires at the instant its whole condition becomes true, not while it stays so", () => {
    expect(firings(allOf(is("a", 1), is("b", 1)), { a: "0 off, 10 on, 50 off", b: "0 off, 20 on, 30 off, 40 on" })).toEqual([20, 40]);
  });

  it("does not fire because its condition was true when the period began", () => {
    expect(firings(is("a", 1), { a: "0 on, 10 off, 20 on" })).toEqual([20]);
  });

  it("fires when its condition becomes known to be true: unknown counted as false", () => {
    expect(firings(is("a", 1), { a: "0 on, 10 ?, 20 on" })).toEqual([20]);
    expect(firings(no(is("a", 0)), { a: "0 on, 10 ?, 20 on" })).toEqual([20]);
  });

  it("does not fire on a turn that nobody saw", () => {
    expect(firings(turned("a", 1, 2), { a: "0 off, 10 ?, 20 on" })).toEqual([]);
  });

  it("is replayed on what it would have seen at the time, not on what is known afterwards", () => {
    const accounts = accountsOf({ a: "0 off, 10 ?" });
    const lastWordStands = accountsOf({ a: "0 off, 10 on, 15 ?" }).get("a")!;
    accounts.set("a", { ...accounts.get("a")!, live: lastWordStands.live });
    expect(replayed(ruleOf(is("a", 1), is("a", 1)), accounts).firings).toEqual([min(10)]);
  });

  it("believes no turn over a restart, however short", () => {
    const rule = ruleOf(turned("a", 1, 2), is("a", 1));
    const restart = [{ from: min(10), to: min(11), cause: "board-a" }];
    expect(replayed(rule, accountsOf({ a: "0 off, 10 ?, 11 on" }), min(5)).firings).toEqual([min(11)]);
    expect(replayed(rule, accountsOf({ a: "0 off, 10 ?, 11 on" }, restart), min(5)).firings).toEqual([]);
  });

  it("names the signal it has no account of", () => {
    expect(() => firings(is("ghost", 1), {})).toThrow('Rule “the rule” names the signal “ghost”, of which there is no account.');
  });
});

const history = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 59 }), fc.constantFrom<TruthState>(0, 1, 2)), { maxLength: 12 })
  .map((steps) => timelineOf(0, 60, steps.toSorted((a, b) => a[0] - b[0])));

describe("whatever the history", () => {
  const at = (x: Timeline, instant: number): boolean => stateAt(x, instant) === ON;

  it("a rule with a further requirement is never true at an instant at which it was not without it", () => {
    fc.assert(
      fc.property(history, history, (a, b) => {
        const accounts = accountsOf({ a, b });
        for (const instant of replayed(ruleOf(allOf(is("a", 1), is("b", 1)), is("a", 1)), accounts).firings) expect(at(a, instant)).toBe(true);
      }),
    );
  });

  it("a rule with a further way in misses no firing, unless it was true already", () => {
    fc.assert(
      fc.property(history, history, (a, b) => {
        const wide = replayed(ruleOf(anyOf(is("a", 1), is("b", 1)), is("a", 1)), accountsOf({ a, b }));
        for (const instant of replayed(ruleOf(is("a", 1), is("a", 1)), accountsOf({ a, b })).firings) {
          expect(wide.firings.includes(instant) || at(wide.condition, instant - 1)).toBe(true);
        }
      }),
    );
  });

  it("firings agree with looking at every instant in turn", () => {
    fc.assert(
      fc.property(history, history, fc.integer({ min: 0, max: 20 }), (a, b, restMs) => {
        const expression = anyOf(allOf(is("a", 1), no(is("b", 1))), turned("b", 1, 1 / 12_000));
        const { condition, firings: found } = replayed(ruleOf(expression, expression, { restMs }), accountsOf({ a, b }));
        const expected: number[] = [];
        for (let t = 1; t < 60; t += 1) {
          if (at(condition, t) && !at(condition, t - 1) && t - (expected.at(-1) ?? -Infinity) >= restMs) expected.push(t);
        }
        expect(found).toEqual(expected);
      }),
    );
  });
});
