import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { jointHistory, type JointHistory } from "../../../src/judge/fooled/joint-history.js";
import { marginOf, type Margin } from "../../../src/judge/fooled/margin.js";
import { claimTree, leavesOf } from "../../../src/judge/rule/claims.js";
import { evaluateParts } from "../../../src/judge/rule/evaluate.js";
import type { Expression } from "../../../src/site/expression.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, type Timeline, type TruthState } from "../../../src/timeline/timeline.js";
import { allOf, anyOf, is, line, min, no, quorum, truthOf, turned } from "../small-site.js";
import { constantTimeline } from "../../timeline/constant-timeline.js";

const day = { from: 0, to: min(60) };

/** The margin with the situations it was measured in. */
function measured(expression: Expression, resolve: (signal: string) => Timeline): Margin & { readonly situations: JointHistory } {
  const claims = claimTree(expression);
  const leaves = leavesOf(claims);
  const situations = jointHistory(leaves, evaluateParts(expression, (ref) => ({ timeline: resolve(ref), barriers: [] }), 0));
  return { ...marginOf({ claims, leaves }, situations), situations };
}
const margin = (expression: Expression, histories: Readonly<Record<string, string>>): ReturnType<typeof measured> => measured(expression, (ref) => line(histories[ref]!, day));
/** `minutes margin` wherever the margin changes. */
const steps = ({ situations, ofPattern }: ReturnType<typeof measured>): string =>
  Array.from(situations.times, (at, i) => ({ at, count: ofPattern[situations.pattern[i]!]! }))
    .filter((one, i, all) => one.count !== all[i - 1]?.count)
    .map(({ at, count }) => `${at / min(1)} ${count}`)
    .join(", ");
const [a, b, c] = [is("a", 1), is("b", 1), is("c", 1)];

describe("the margin of a condition", () => {
  it("is the sum over an all, the least over an any, the cheapest k of a quorum", () => {
    const histories = { a: "0 off, 10 on", b: "0 off, 20 on", c: "0 off, 30 on" };
    expect(steps(margin(allOf(a, b, c), histories))).toBe("0 3, 10 2, 20 1, 30 0");
    expect(steps(margin(anyOf(allOf(a, b), c), histories))).toBe("0 1, 20 0");
    expect(steps(margin(quorum(2, a, b, c), histories))).toBe("0 2, 10 1, 20 0");
  });

  it("turns all and any around under a not", () => {
    const histories = { a: "0 on, 10 off", b: "0 on, 20 off", c: "0 off" };
    expect(steps(margin(no(anyOf(a, b)), histories))).toBe("0 2, 10 1, 20 0");
    expect(steps(margin(no(allOf(a, b)), histories))).toBe("0 1, 10 0");
  });

  it("counts what is unknown as not so, under a not too", () => {
    expect(steps(margin(allOf(a, no(b)), { a: "0 ?, 10 on, 20 ?", b: "0 ?, 30 off" }))).toBe("0 2, 10 1, 20 2, 30 1");
  });

  it("follows the atoms' own time: a turn is near for as long as it is believed", () => {
    expect(steps(margin(allOf(turned("a", 1, 5), b), { a: "0 off, 10 on", b: "0 off, 12 on" }))).toBe("0 2, 10 1, 12 0, 15 1");
  });

  it("names the signals that alone would do while it is 1", () => {
    const { situations, aloneInPattern } = margin(anyOf(allOf(a, b), c), { a: "0 off, 10 on", b: "0 off", c: "0 off" });
    expect(Array.from(situations.pattern, (pattern) => aloneInPattern[pattern])).toEqual([["c"], ["b", "c"]]);
  });

  it("lets a signal that stands twice pay once, and never read two ways", () => {
    const histories = { a: "0 off", b: "0 off, 10 on", c: "0 off" };
    const twice = margin(allOf(a, anyOf(a, b)), histories);
    expect([twice.exact, steps(twice)]).toEqual([true, "0 1"]);
    expect(steps(margin(allOf(anyOf(a, b), anyOf(no(a), c)), histories))).toBe("0 1, 10 0");
    expect(steps(margin(allOf(a, no(a)), histories))).toBe("0 Infinity");
  });

  it("says where it is a bound", () => {
    expect(margin(allOf(turned("a", 1, 5), a), { a: "0 off" }).exact).toBe(false);
    const many = Array.from({ length: 8 }, (_, i) => is(`s${i}`, 1));
    const twice = margin(anyOf(allOf(...many), allOf(...many.toReversed())), Object.fromEntries(many.map((_, i) => [`s${i}`, "0 off"])));
    expect([twice.exact, steps(twice)]).toEqual([false, "0 4"]);
  });
});

/** Conditions over the given signals, each as often as it comes. */
function conditionOver(signals: readonly string[]): fc.Arbitrary<Expression> {
  const atom = fc.tuple(fc.constantFrom(...signals), fc.constantFrom(0 as const, 1 as const)).map(([signal, state]) => is(signal, state));
  return fc.letrec<{ node: Expression }>((tie) => {
    const some = fc.array(tie("node"), { minLength: 1, maxLength: 3 });
    return {
      node: fc.oneof(
        { maxDepth: 3 },
        { weight: 2, arbitrary: atom },
        { weight: 2, arbitrary: some.map((of) => allOf(...of)) },
        { weight: 2, arbitrary: some.map((of) => anyOf(...of)) },
        { weight: 1, arbitrary: fc.tuple(some, fc.integer({ min: 1, max: 3 })).map(([of, k]) => quorum(Math.min(k, of.length), ...of)) },
        { weight: 1, arbitrary: tie("node").map(no) },
      ),
    };
  }).node;
}

/** Renames the atoms so that every one has a signal of its own. */
function eachOnce(expression: Expression): Expression {
  let next = 0;
  const renamed = (part: Expression): Expression => {
    if (part.op === "is" || part.op === "turned") return { ...part, ref: `s${next++}` };
    if (part.op === "not") return { ...part, of: renamed(part.of) };
    return { ...part, of: part.of.map(renamed) };
  };
  return renamed(expression);
}

function namesIn(expression: Expression): string[] {
  if (expression.op === "is" || expression.op === "turned") return [expression.ref];
  return expression.op === "not" ? namesIn(expression.of) : [...new Set(expression.of.flatMap(namesIn))];
}

/** The fewest signals whose reading must change: every subset, and every way in which it could read instead, is tried. */
function fewestByTrial(expression: Expression, states: ReadonlyMap<string, TruthState>): number {
  const names = namesIn(expression);
  const holds = (read: ReadonlyMap<string, TruthState>): boolean =>
    stateAt(truthOf(expression, (ref) => ({ timeline: constantTimeline(0, 1, read.get(ref)!), barriers: [] })), 0) === ON;
  let fewest = holds(states) ? 0 : Infinity;
  for (let bits = 1; bits < 2 ** names.length; bits += 1) {
    const changed = names.filter((_, i) => (bits >> i) & 1);
    if (changed.length >= fewest) continue;
    for (let reading = 0; reading < 2 ** changed.length; reading += 1) {
      if (holds(new Map([...states, ...changed.map((name, i) => [name, ((reading >> i) & 1) as TruthState] as const)]))) {
        fewest = changed.length;
        break;
      }
    }
  }
  return fewest;
}

/** Each signal goes through a few states, one a minute. */
function historiesOf(names: readonly string[], letters: readonly (readonly number[])[]): Map<string, Timeline> {
  return new Map(names.map((name, i) => [name, timelineOf(0, min(3), [0, 1, 2].map((minute) => [min(minute), (letters[i] ?? [0, 0, 0])[minute] as TruthState] as const))]));
}

describe("against trying every reading of every signal", () => {
  const readings = fc.array(fc.array(fc.constantFrom(0, 1, 2), { minLength: 3, maxLength: 3 }), { minLength: 7, maxLength: 7 });

  const compare = (condition: Expression, letters: readonly (readonly number[])[]): { measured: number[]; tried: number[]; exact: boolean } => {
    const histories = historiesOf(namesIn(condition), letters);
    const { situations, ofPattern, exact } = measured(condition, (ref) => histories.get(ref)!);
    const at = [0, 1, 2].map((minute) => min(minute));
    return {
      exact,
      measured: at.map((instant) => ofPattern[situations.pattern[situations.times.findLastIndex((time) => time <= instant)]!]!),
      tried: at.map((instant) => fewestByTrial(condition, new Map([...histories].map(([name, timeline]) => [name, stateAt(timeline, instant)])))),
    };
  };

  it("is exact where each signal stands once", () => {
    fc.assert(
      fc.property(conditionOver(["x"]).map(eachOnce).filter((one) => namesIn(one).length <= 5), readings, (condition, letters) => {
        const { measured, tried, exact } = compare(condition, letters);
        expect(exact).toBe(true);
        expect(measured).toEqual(tried);
      }),
      { numRuns: 1_500 },
    );
  });

  it("is exact, or else a bound from below, where signals stand in several places", () => {
    fc.assert(
      fc.property(conditionOver(["a", "b", "c", "d", "e"]), readings, (condition, letters) => {
        const { measured, tried, exact } = compare(condition, letters);
        if (exact) expect(measured).toEqual(tried);
        else measured.forEach((one, i) => expect(one).toBeLessThanOrEqual(tried[i]!));
      }),
      { numRuns: 1_500 },
    );
  });
});
