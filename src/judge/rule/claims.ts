import type { Expression } from "../../site/expression.js";
import { quorumOf, type Atom } from "./condition.js";

/** What a signal must seem to have done for one atom (or its denial) to hold now. */
export type Claim = { readonly signal: string } & (
  | { readonly form: "throughout"; readonly state: 0 | 1; readonly spanMs: number }
  | { readonly form: "sometime"; readonly state: 0 | 1; readonly spanMs: number }
  | { readonly form: "turned"; readonly to: 0 | 1; readonly withinMs: number }
  | { readonly form: "not-turned"; readonly to: 0 | 1; readonly withinMs: number }
  /** Held and recently in one atom, or since a change of another signal: never taken to contradict anything. */
  | { readonly form: "mixed"; readonly key: string }
);

/**
 * A condition without "not". It is carried down to the atoms: to deny "on all through d" is to say "off at some instant
 * of d", and to deny a turn is to say that the signal did not turn. So every leaf needs its signal, and more lies never
 * make the condition less true.
 */
export type ClaimTree = ClaimLeaf | { readonly op: "quorum"; readonly count: number; readonly of: readonly ClaimTree[] };

/**
 * A claim with the atom it came from, and the state of that atom in which it holds: on as it stands, off where it is
 * denied.
 */
export interface ClaimLeaf {
  readonly op: "claim";
  readonly claim: Claim;
  readonly atom: Atom;
  readonly holdsIn: 0 | 1;
}

/**
 * The condition as claims about signals: all = every operand, any = one, at least k = k of them; "not" swaps all and
 * any.
 */
export function claimTree(expression: Expression, denied = false): ClaimTree {
  switch (expression.op) {
    case "not":
      return claimTree(expression.of, !denied);
    case "all":
    case "any":
    case "atLeast": {
      const quorum = quorumOf(expression);
      // Fewer than `quorum` hold when enough do not.
      const count = denied ? expression.of.length - quorum + 1 : quorum;
      return { op: "quorum", count, of: expression.of.map((part) => claimTree(part, denied)) };
    }
    case "is":
    case "turned":
      return { op: "claim", claim: claimOf(expression, denied), atom: expression, holdsIn: denied ? 0 : 1 };
  }
}

function claimOf(atom: Atom, denied: boolean): Claim {
  const signal = atom.ref;
  if (atom.op === "turned") return { signal, form: denied ? "not-turned" : "turned", to: atom.to, withinMs: atom.withinMs };
  if (atom.since !== undefined) {
    const { ref, to, graceMs } = atom.since;
    return { signal, form: "mixed", key: `${denied ? "not " : ""}${atom.state} since ${ref} ${to} ${graceMs}` };
  }
  if (atom.heldMs !== null && atom.recentlyMs !== null) {
    return { signal, form: "mixed", key: `${denied ? "not " : ""}${atom.state} ${atom.heldMs} ${atom.recentlyMs}` };
  }
  const state = denied ? ((1 - atom.state) as 0 | 1) : atom.state;
  if (atom.recentlyMs !== null) return { signal, form: denied ? "throughout" : "sometime", state, spanMs: atom.recentlyMs };
  if (atom.heldMs !== null) return { signal, form: denied ? "sometime" : "throughout", state, spanMs: atom.heldMs };
  return { signal, form: "throughout", state, spanMs: 0 };
}

/**
 * Whether one signal can never make both claims at the same instant. Only what is surely impossible counts: a set of
 * lies wrongly taken as possible makes a rule look worse, but one wrongly ruled out would hide a way in.
 */
export function contradict(a: Claim, b: Claim): boolean {
  return a.signal === b.signal && (contradictsOneWay(a, b) || contradictsOneWay(b, a));
}

function contradictsOneWay(a: Claim, b: Claim): boolean {
  if (a.form === "throughout") {
    if (b.form === "throughout") return a.state !== b.state;
    // All through the last hour leaves no room for otherwise within the last ten minutes.
    if (b.form === "sometime") return a.state !== b.state && b.spanMs <= a.spanMs;
    // The turn must lie before the span began, yet less than `withinMs` ago.
    if (b.form === "turned") return a.spanMs >= b.withinMs;
  }
  return a.form === "not-turned" && b.form === "turned" && a.to === b.to && b.withinMs <= a.withinMs;
}

/** Every leaf of the tree, in the order of the condition. */
export function leavesOf(tree: ClaimTree): ClaimLeaf[] {
  return tree.op === "claim" ? [tree] : tree.of.flatMap(leavesOf);
}
