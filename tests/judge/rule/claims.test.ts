import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { claimTree, contradict, leavesOf, type Claim } from "../../../src/judge/rule/claims.js";
import type { Expression } from "../../../src/site/expression.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stretches } from "../../../src/timeline/stretches.js";
import { ON, type TruthState } from "../../../src/timeline/timeline.js";
import { allOf, anyOf, is, min, no, quorum, truthOf, turned } from "../small-site.js";

function claim(atom: Expression): Claim {
  const tree = claimTree(atom);
  if (tree.op !== "claim") throw new TypeError("not a single claim");
  return tree.claim;
}
const claimsOf = (condition: Expression): Claim[] => leavesOf(claimTree(condition)).map((leaf) => leaf.claim);
const clash = (one: Expression, other: Expression): boolean => contradict(claim(one), claim(other));

describe("a denied condition", () => {
  it("asks the opposite of every atom, at some instant instead of throughout", () => {
    expect(claimsOf(no(is("a", 1)))).toEqual(claimsOf(is("a", 0)));
    expect(claimsOf(no(is("a", 1, { heldMs: min(5) })))).toEqual(claimsOf(is("a", 0, { recentlyMs: min(5) })));
    expect(claimsOf(no(is("a", 1, { recentlyMs: min(5) })))).toEqual(claimsOf(is("a", 0, { heldMs: min(5) })));
    expect(claimTree(no(no(turned("a", 1, 5))))).toEqual(claimTree(turned("a", 1, 5)));
  });

  it("asks so many operands that the quorum is out of reach", () => {
    const [a, b, c] = [is("a", 1), is("b", 1), is("c", 1)];
    expect(claimTree(no(allOf(a, b, c)))).toMatchObject({ count: 1 });
    expect(claimTree(no(anyOf(a, b, c)))).toMatchObject({ count: 3 });
    expect(claimTree(no(quorum(2, a, b, c)))).toMatchObject({ count: 2 });
  });
});

describe("two claims of one signal", () => {
  it("contradict one another when it would have to read two ways at once", () => {
    expect(clash(is("a", 1), is("a", 0))).toBe(true);
    expect(clash(is("a", 1), is("b", 0))).toBe(false);
    expect(clash(is("a", 1), is("a", 1, { heldMs: min(5) }))).toBe(false);
  });

  it("leave room for what was before", () => {
    expect(clash(is("a", 1), is("a", 0, { recentlyMs: min(5) }))).toBe(false);
    expect(clash(is("a", 1, { heldMs: min(5) }), is("a", 0, { recentlyMs: min(5) }))).toBe(true);
    expect(clash(is("a", 1, { heldMs: min(5) }), is("a", 0, { recentlyMs: min(6) }))).toBe(false);
  });

  it("contradict when a turn had to happen inside a time without change", () => {
    expect(clash(turned("a", 1, 5), is("a", 1))).toBe(false);
    expect(clash(turned("a", 1, 5), is("a", 0))).toBe(false);
    expect(clash(turned("a", 1, 5), is("a", 1, { heldMs: min(5) }))).toBe(true);
    expect(clash(turned("a", 1, 5), is("a", 1, { heldMs: min(4) }))).toBe(false);
    expect(clash(no(turned("a", 1, 5)), turned("a", 1, 5))).toBe(true);
    expect(clash(no(turned("a", 1, 5)), turned("a", 1, 6))).toBe(false);
    expect(clash(no(turned("a", 1, 5)), turned("a", 0, 5))).toBe(false);
  });
});

const span = fc.integer({ min: 0, max: 6 });
const state = fc.constantFrom<0 | 1>(0, 1);
const atom = fc
  .oneof(
    state.map((s) => is("a", s)),
    fc.tuple(state, span).map(([s, d]) => is("a", s, { heldMs: d })),
    fc.tuple(state, span).map(([s, d]) => is("a", s, { recentlyMs: d })),
    fc.tuple(state, span).map(([to, w]): Expression => ({ op: "turned", ref: "a", to, withinMs: w })),
  )
  .chain((one) => fc.constantFrom(one, no(one)));

describe("whatever a signal reads", () => {
  it("claims said to contradict one another never hold together", () => {
    const readings = fc.array(fc.tuple(fc.integer({ min: 0, max: 39 }), fc.constantFrom<TruthState>(0, 1, 1, 0, 2)), { maxLength: 25 });
    fc.assert(
      fc.property(atom, atom, readings, (one, other, steps) => {
        fc.pre(clash(one, other));
        const timeline = timelineOf(0, 40, steps.toSorted((x, y) => x[0] - y[0]));
        const both = truthOf(allOf(one, other), () => ({ timeline, barriers: [] }), 3);
        expect(stretches(both, ON)).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });
});
