import type { Expression, IsAtom, TurnedAtom } from "../../site/expression.js";

/** A statement about one signal or subject: the leaf of an expression. */
export type Atom = IsAtom | TurnedAtom;

/** An expression with operands. */
export type Compound = Extract<Expression, { readonly op: "all" | "any" | "atLeast" }>;

/** Whether the part is a leaf. */
export function isAtom(part: Expression): part is Atom {
  return part.op === "is" || part.op === "turned";
}

/** The names a leaf listens to: its own, and that of the change since which its state must last. */
export function refsOfAtom(atom: Atom): string[] {
  return atom.op === "is" && atom.since !== undefined ? [atom.ref, atom.since.ref] : [atom.ref];
}

/** Every leaf of an expression, in its order; one that stands twice comes twice. */
export function atomsOf(part: Expression): Atom[] {
  if (isAtom(part)) return [part];
  return part.op === "not" ? atomsOf(part.of) : part.of.flatMap(atomsOf);
}

/** How many operands must hold: all of them, one, or at least k. */
export function quorumOf(part: Compound): number {
  switch (part.op) {
    case "all":
      return part.of.length;
    case "any":
      return 1;
    case "atLeast":
      return part.count;
  }
}

/** How far back from an instant any part of an expression looks, in milliseconds; gaps before a turn not counted. */
export function longestWindowMs(part: Expression): number {
  return Math.max(0, ...atomsOf(part).map((atom) => (atom.op === "turned" ? atom.withinMs : (atom.heldMs ?? 0) + (atom.recentlyMs ?? 0))));
}
