/* eslint-disable @typescript-eslint/no-non-null-assertion -- the list has one entry */
import type { Expression } from "../../site/expression.js";
import { isAtom, quorumOf, type Atom } from "../rule/condition.js";

/** What is left of a condition once some of its atoms are settled: a number that stands for it. */
export type Residual = number;

/** The residual of a condition that cannot hold any more. */
export const NEVER: Residual = 0;
/** The residual of a condition that holds whatever the other atoms are. */
export const ALWAYS: Residual = 1;

/** Settled atoms, by {@link atomKey}. Use one object again for the same values: the work done for it is remembered. */
export type Settled = ReadonlyMap<string, boolean>;

/** Conditions that are worked out atom by atom. Two residuals of one workshop are equal when their numbers are. */
export interface Residuals {
  readonly of: (expression: Expression) => Residual;
  readonly settle: (residual: Residual, settled: Settled) => Residual;
}

type Node =
  | { readonly op: "atom"; readonly key: string }
  | { readonly op: "not"; readonly of: Residual }
  | { readonly op: "quorum"; readonly count: number; readonly of: readonly Residual[] };

/** Equal atoms have equal keys. */
export function atomKey(atom: Atom): string {
  if (atom.op === "turned") return `${atom.ref} turned ${atom.to} ${atom.withinMs}`;
  const since = atom.since === undefined ? "" : ` since ${atom.since.ref} ${atom.since.to} ${atom.since.graceMs}`;
  return `${atom.ref} is ${atom.state} ${atom.heldMs} ${atom.recentlyMs}${since}`;
}

/**
 * Conditions with equal remainders become the same number, so that a search over many subjects need not keep apart what
 * makes no difference any more: once one phone has come home, the others are not asked.
 */
export function makeResiduals(): Residuals {
  const nodes: (Node | null)[] = [null, null];
  const numbers = new Map<string, Residual>();
  const done = new WeakMap<Settled, Map<Residual, Residual>>();

  const numberOf = (node: Node): Residual => {
    const key = node.op === "atom" ? `a${node.key}` : node.op === "not" ? `n${node.of}` : `q${node.count}:${node.of.join()}`;
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, nodes.length);
    return nodes.push(node) - 1;
  };
  const denied = (of: Residual): Residual => {
    const node = nodes[of];
    return of === NEVER ? ALWAYS : of === ALWAYS ? NEVER : node?.op === "not" ? node.of : numberOf({ op: "not", of });
  };
  const quorum = (wanted: number, all: readonly Residual[]): Residual => {
    const count = wanted - all.filter((one) => one === ALWAYS).length;
    const of = all.filter((one) => one !== ALWAYS && one !== NEVER).sort((a, b) => a - b);
    if (count <= 0) return ALWAYS;
    if (of.length < count) return NEVER;
    return of.length === 1 ? of[0]! : numberOf({ op: "quorum", count, of });
  };
  const build = (part: Expression): Residual => {
    if (isAtom(part)) return numberOf({ op: "atom", key: atomKey(part) });
    return part.op === "not" ? denied(build(part.of)) : quorum(quorumOf(part), part.of.map(build));
  };
  const settle = (residual: Residual, settled: Settled): Residual => {
    const node = nodes[residual];
    if (node === null || node === undefined) return residual;
    const remembered = done.get(settled) ?? new Map<Residual, Residual>();
    done.set(settled, remembered);
    const known = remembered.get(residual);
    if (known !== undefined) return known;
    const result = settledNode(node, residual);
    remembered.set(residual, result);
    return result;

    function settledNode(one: Node, itself: Residual): Residual {
      if (one.op === "not") return denied(settle(one.of, settled));
      if (one.op === "quorum") return quorum(one.count, one.of.map((part) => settle(part, settled)));
      const value = settled.get(one.key);
      return value === undefined ? itself : value ? ALWAYS : NEVER;
    }
  };
  return { of: build, settle };
}
