import type { Expression, IsAtom, TurnedAtom } from "../../site/expression.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON, type TruthState } from "../../timeline/timeline.js";
import { timelineOfPart, type EvaluatedParts } from "./evaluate.js";
import { quorumOf } from "./quorum.js";

/** A statement about one signal or subject: the leaf of an expression. */
export type Atom = IsAtom | TurnedAtom;

/** An atom with its state at the instant asked about. */
export interface AtomState {
  readonly atom: Atom;
  readonly state: TruthState;
}

/**
 * The atoms that make a known state what it is at `instant`: all operands of an "all" that is on, those that are off of
 * one that is off, and so on. Empty where the whole is unknown. In the order of the expression, each atom once.
 */
export function decidingAtoms(expression: Expression, parts: EvaluatedParts, instant: number): AtomState[] {
  const found = new Map<Atom, AtomState>();
  const visit = (part: Expression): void => {
    const state = stateAt(timelineOfPart(part, parts), instant);
    if (state !== ON && state !== OFF) return;
    if (part.op === "is" || part.op === "turned") {
      found.set(part, { atom: part, state });
      return;
    }
    if (part.op === "not") {
      visit(part.of);
      return;
    }
    // A known "all", "any" or "at least" rests on those operands that share its state: too few of the others are left.
    for (const operand of part.of) {
      if (stateAt(timelineOfPart(operand, parts), instant) === state) visit(operand);
    }
  };
  visit(expression);
  return [...found.values()];
}

/**
 * The fewest atoms that would have to be otherwise for the expression to be `want` at `instant`; empty when it is.
 * all = every operand's, any = the cheapest operand's, at least k = the k cheapest operands'. Equally cheap ones: the first.
 * One signal named in two atoms counts twice: this explains, it does not prove.
 */
export function blockingAtoms(expression: Expression, parts: EvaluatedParts, instant: number, want: typeof ON | typeof OFF = ON): AtomState[] {
  const visit = (part: Expression, wanted: typeof ON | typeof OFF): AtomState[] => {
    const state = stateAt(timelineOfPart(part, parts), instant);
    if (state === wanted) return [];
    if (part.op === "is" || part.op === "turned") return [{ atom: part, state }];
    if (part.op === "not") return visit(part.of, wanted === ON ? OFF : ON);
    const quorum = quorumOf(part);
    // Off needs so many operands off that the quorum is out of reach.
    const needed = wanted === ON ? quorum : part.of.length - quorum + 1;
    return part.of
      .map((operand) => visit(operand, wanted))
      .toSorted((a, b) => a.length - b.length)
      .slice(0, needed)
      .flat();
  };
  const once = new Map(visit(expression, want).map((one) => [one.atom, one]));
  return [...once.values()];
}
