import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contradiction } from "../../src/site/contradiction.js";
import type { Expression } from "../../src/site/expression.js";

/*
 * The slow twin: one signal's history is a row of steps, the last of which holds at the instant of evaluation;
 * all histories are tried. States: 0 off, 1 on, 2 unknown.
 */
const STEPS = 8;
const histories = Array.from({ length: 3 ** STEPS }, (_, number) => Array.from({ length: STEPS }, (__, step) => Math.floor(number / 3 ** step) % 3));

const notOf: readonly number[] = [1, 0, 2];

/** 1 on, 0 known off, 2 unknown: the value of an expression at the last step. */
function valueAt(expression: Expression, historyOf: (ref: string) => readonly number[]): number {
  switch (expression.op) {
    case "not":
      return notOf[valueAt(expression.of, historyOf)]!;
    case "all":
    case "any":
    case "atLeast": {
      const needed = expression.op === "atLeast" ? expression.count : expression.op === "all" ? expression.of.length : 1;
      const values = expression.of.map((part) => valueAt(part, historyOf));
      if (values.filter((value) => value === 1).length >= needed) return 1;
      return values.filter((value) => value !== 0).length < needed ? 0 : 2;
    }
    case "is": {
      const history = historyOf(expression.ref);
      const window = history.slice(STEPS - 1 - (expression.heldMs ?? expression.recentlyMs ?? 0));
      const agrees = window.map((state) => (state === 2 ? 2 : state === expression.state ? 1 : 0));
      if (expression.recentlyMs !== null) return agrees.includes(1) ? 1 : agrees.includes(2) ? 2 : 0;
      return agrees.includes(0) ? 0 : agrees.includes(2) ? 2 : 1;
    }
    case "turned": {
      const history = historyOf(expression.ref);
      for (let at = STEPS - expression.withinMs; at < STEPS; at++) if (history[at] === expression.to && history[at - 1] === 1 - expression.to) return 1;
      return history.slice(STEPS - 1 - expression.withinMs).includes(2) ? 2 : 0;
    }
  }
}

const is = (ref: string, state: 0 | 1, heldMs: number | null = null, recentlyMs: number | null = null): Expression => ({ op: "is", ref, state, heldMs, recentlyMs });
const turned = (ref: string, to: 0 | 1, withinMs: number): Expression => ({ op: "turned", ref, to, withinMs });
const not = (of: Expression): Expression => ({ op: "not", of });
const all = (...of: Expression[]): Expression => ({ op: "all", of });

describe("contradiction", () => {
  it("agrees with trying every history, for every two demands on one signal", () => {
    const atoms = ([0, 1] as const).flatMap((state) => [is("x", state), ...[2, 4].flatMap((ms) => [is("x", state, ms), is("x", state, null, ms), turned("x", state, ms)])]);
    const literals = atoms.flatMap((atom) => [atom, not(atom)]);
    const met = literals.map((literal) => histories.map((history) => valueAt(literal, () => history) === 1));
    let impossible = 0;
    literals.forEach((a, i) =>
      literals.forEach((b, j) => {
        const possible = met[i]!.some((yes, history) => yes && met[j]![history]!);
        if (!possible) impossible++;
        expect([i, j, contradiction(all(a, b)) === null]).toEqual([i, j, possible]);
      }),
    );
    expect(impossible).toBeGreaterThan(50);
  });

  it("never calls a condition impossible that some history meets", () => {
    const atom = fc.oneof(
      fc.record({ op: fc.constant("is" as const), ref: fc.constantFrom("x", "y"), state: fc.constantFrom(0 as const, 1 as const), heldMs: fc.option(fc.constantFrom(1, 2, 4)), recentlyMs: fc.constant(null) }),
      fc.record({ op: fc.constant("is" as const), ref: fc.constantFrom("x", "y"), state: fc.constantFrom(0 as const, 1 as const), heldMs: fc.constant(null), recentlyMs: fc.constantFrom(1, 2, 4) }),
      fc.record({ op: fc.constant("turned" as const), ref: fc.constantFrom("x", "y"), to: fc.constantFrom(0 as const, 1 as const), withinMs: fc.constantFrom(1, 2, 4) }),
    );
    const { expression } = fc.letrec<{ expression: Expression; many: Expression[] }>((tie) => ({
      expression: fc.oneof(
        { maxDepth: 3 },
        atom,
        fc.record({ op: fc.constantFrom("all" as const, "any" as const), of: tie("many") }),
        tie("many").chain((of) => fc.record({ op: fc.constant("atLeast" as const), count: fc.integer({ min: 1, max: of.length }), of: fc.constant(of) })),
        fc.record({ op: fc.constant("not" as const), of: tie("expression") }),
      ),
      many: fc.array(tie("expression"), { minLength: 1, maxLength: 4 }),
    }));
    let called = 0;
    fc.assert(
      fc.property(expression, fc.array(fc.tuple(fc.nat(histories.length - 1), fc.nat(histories.length - 1)), { minLength: 100, maxLength: 200 }), (condition, pairs) => {
        if (contradiction(condition) === null) return;
        called++;
        for (const [x, y] of pairs) expect(valueAt(condition, (ref) => histories[ref === "x" ? x : y]!)).not.toBe(1);
      }),
      { numRuns: 1500 },
    );
    // Without a fair number of impossible conditions the property would say nothing.
    expect(called).toBeGreaterThan(50);
  });

  it("names two parts that exclude each other", () => {
    const open = is("rail", 1);
    const shut = is("rail", 0);
    expect(contradiction(all(open, is("other", 1), { op: "any", of: [shut] }))).toEqual({ clash: { one: shut, other: open } });
    expect(contradiction({ op: "any", of: [all(open, shut), is("other", 1)] })).toBeNull();
  });

  it("needs at least three of three where only two can be", () => {
    const of = [is("x", 1), is("x", 0), is("y", 1)];
    expect(contradiction({ op: "atLeast", count: 2, of })).toBeNull();
    expect(contradiction({ op: "atLeast", count: 3, of })).not.toBeNull();
    expect(contradiction(not({ op: "atLeast", count: 1, of }))).not.toBeNull();
    expect(contradiction(not({ op: "atLeast", count: 2, of }))).toBeNull();
  });

  it("lets a person who arrived be gone again", () => {
    expect(contradiction(all(turned("phone", 1, 10), is("phone", 0)))).toBeNull();
    expect(contradiction(all(turned("phone", 1, 10), is("phone", 0, 10)))).not.toBeNull();
  });

  it("gives up on a search without end, and then says nothing", () => {
    const wide = Array.from({ length: 40 }, (_, i) => all(is(`s${i}`, 1), is(`s${i}`, 0)));
    const possible = Array.from({ length: 30 }, (_, i): Expression => ({ op: "any", of: [is(`a${i}`, 1), is(`b${i}`, 1)] }));
    expect(contradiction({ op: "atLeast", count: 20, of: [...possible, ...wide] })).toBeNull();
    expect(contradiction(all(...possible, { op: "atLeast", count: 3, of: wide }))).toBeNull();
  });

  it("takes a depot of thousands of signals", () => {
    const many = Array.from({ length: 15_000 }, (_, i) => is(`s${i}`, 1));
    expect(contradiction(all(...many))).toBeNull();
    expect(contradiction(all(...many, is("s0", 0)))).not.toBeNull();
  });
});
