import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decidingAtoms, fewestBlocking } from "../../../src/judge/rule/deciding-atoms.js";
import { evaluateParts } from "../../../src/judge/rule/evaluate.js";
import type { Expression } from "../../../src/site/expression.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, type TruthState } from "../../../src/timeline/timeline.js";
import { allOf, anyOf, is, line, min, no, quorum } from "../small-site.js";
import { constantTimeline } from "../../timeline/constant-timeline.js";

type States = Readonly<Record<string, TruthState>>;

function parts(expression: Expression, states: States): ReturnType<typeof evaluateParts> {
  return evaluateParts(expression, (ref) => ({ timeline: constantTimeline(0, 1, states[ref] ?? 2), barriers: [] }), 0);
}
const names = (found: readonly { atom: { ref: string } }[]): string[] => found.map((one) => one.atom.ref);
const deciding = (expression: Expression, states: States): string[] => names(decidingAtoms(expression, parts(expression, states), 0));
const blocking = (expression: Expression, states: States): string[] => names(fewestBlocking(expression, parts(expression, states), 0, 0));

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

describe("what stands in the way inside a window", () => {
  const history: Readonly<Record<string, string>> = { a: "0 off, 10 on, 20 off", b: "0 off, 15 on" };
  const condition = allOf(a, b, c);
  const over = evaluateParts(condition, (ref) => ({ timeline: line(history[ref] ?? "0 ?"), barriers: [] }), 0);
  const fewest = (from: number, to: number): string[] => names(fewestBlocking(condition, over, min(from), min(to)));

  it("is told of the instant at which it is least, the ends of the window included", () => {
    expect(fewest(0, 9)).toEqual(["a", "b", "c"]);
    expect(fewest(0, 10)).toEqual(["b", "c"]);
    expect(fewest(0, 15)).toEqual(["c"]);
    expect(fewest(16, 30)).toEqual(["c"]);
    expect(fewest(20, 30)).toEqual(["a", "c"]);
  });

  it("is nothing where the condition holds at some instant of it", () => {
    const both = allOf(a, b);
    const parts = evaluateParts(both, (ref) => ({ timeline: line(history[ref]!), barriers: [] }), 0);
    expect(names(fewestBlocking(both, parts, min(10), min(30)))).toEqual([]);
    expect(names(fewestBlocking(both, parts, min(20), min(30)))).toEqual(["a"]);
  });

  it("is told of the history's beginning where the window begins before it, and of the earliest of equals", () => {
    expect(fewest(-5, 5)).toEqual(["a", "b", "c"]);
    expect(fewest(10, 14)).toEqual(["b", "c"]);
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
