import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { blockingAtoms, decidingAtoms } from "../../../src/judge/rule/deciding-atoms.js";
import { evaluateParts } from "../../../src/judge/rule/evaluate.js";
import type { Expression } from "../../../src/site/expression.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, type TruthState } from "../../../src/timeline/timeline.js";
import { allOf, anyOf, is, no, quorum } from "../small-site.js";
import { constantTimeline } from "../../timeline/constant-timeline.js";

type States = Readonly<Record<string, TruthState>>;

function parts(expression: Expression, states: States): ReturnType<typeof evaluateParts> {
  return evaluateParts(expression, (ref) => ({ timeline: constantTimeline(0, 1, states[ref] ?? 2), barriers: [] }), 0);
}
const names = (found: readonly { atom: { ref: string } }[]): string[] => found.map((one) => one.atom.ref);
const deciding = (expression: Expression, states: States): string[] => names(decidingAtoms(expression, parts(expression, states), 0));
const blocking = (expression: Expression, states: States): string[] => names(blockingAtoms(expression, parts(expression, states), 0));

const [a, b, c, d] = [is("a", 1), is("b", 1), is("c", 1), is("d", 1)];

describe("what decides", () => {
  it("is everything where all are on, and whatever is off where they are not", () => {
    expect(deciding(allOf(a, b), { a: 1, b: 1 })).toEqual(["a", "b"]);
    expect(deciding(allOf(a, b, c), { a: 1, b: 0, c: 2 })).toEqual(["b"]);
  });

  it("is whatever is on where one suffices, and everything where none is", () => {
    expect(deciding(anyOf(a, b, c), { a: 0, b: 1, c: 2 })).toEqual(["b"]);
    expect(deciding(anyOf(a, b), { a: 0, b: 0 })).toEqual(["a", "b"]);
  });

  it("is nothing where nobody can tell", () => {
    expect(deciding(allOf(a, b), { a: 1, b: 2 })).toEqual([]);
  });
});

describe("what stands in the way", () => {
  it("is nothing where the condition holds", () => {
    expect(blocking(anyOf(a, b), { a: 1, b: 0 })).toEqual([]);
  });

  it("is every requirement that is not met, the unknown ones too", () => {
    expect(blocking(allOf(a, b, c), { a: 1, b: 0, c: 2 })).toEqual(["b", "c"]);
  });

  it("is the cheapest way among several", () => {
    expect(blocking(anyOf(allOf(a, b), c), { a: 0, b: 0, c: 0 })).toEqual(["c"]);
    expect(blocking(quorum(2, a, b, c), { a: 1, b: 0, c: 0 })).toEqual(["b"]);
  });

  it("looks through a not", () => {
    expect(blocking(no(anyOf(a, b, c)), { a: 1, b: 0, c: 1 })).toEqual(["a", "c"]);
    expect(blocking(no(quorum(2, a, b, c)), { a: 1, b: 1, c: 1 })).toEqual(["a", "b"]);
  });
});

const expression = fc.letrec<{ node: Expression; leaf: Expression }>((tie) => ({
  leaf: fc.constantFrom(a, b, c, d),
  node: fc.oneof(
    { maxDepth: 3 },
    tie("leaf"),
    fc.array(tie("node"), { minLength: 1, maxLength: 3 }).map((of) => allOf(...of)),
    fc.array(tie("node"), { minLength: 1, maxLength: 3 }).map((of) => anyOf(...of)),
    fc.tuple(fc.array(tie("node"), { minLength: 1, maxLength: 3 }), fc.integer({ min: 1, max: 3 })).map(([of, k]) => quorum(Math.min(k, of.length), ...of)),
    tie("node").map(no),
  ),
})).node;
const someStates = fc.record({ a: fc.constantFrom<TruthState>(0, 1, 2), b: fc.constantFrom<TruthState>(0, 1, 2), c: fc.constantFrom<TruthState>(0, 1, 2), d: fc.constantFrom<TruthState>(0, 1, 2) });

describe("whatever the condition", () => {
  it("what decides is enough: with everything else unknown the state is the same", () => {
    fc.assert(
      fc.property(expression, someStates, (condition, states) => {
        const state = stateAt(parts(condition, states).get(condition)!, 0);
        const kept = deciding(condition, states);
        const others = Object.fromEntries(Object.entries(states).map(([name, value]) => [name, kept.includes(name) ? value : 2] as const)) as States;
        expect(stateAt(parts(condition, others).get(condition)!, 0)).toBe(state);
      }),
    );
  });

  it("nothing stands in the way exactly where the condition holds", () => {
    fc.assert(
      fc.property(expression, someStates, (condition, states) => {
        expect(blocking(condition, states).length === 0).toBe(stateAt(parts(condition, states).get(condition)!, 0) === ON);
      }),
    );
  });
});
