import { minIndex } from "d3-array";
import { firstAtOrAfter } from "../../ground/search.js";
import type { Expression } from "../../site/expression.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON, type TruthState } from "../../timeline/timeline.js";
import { isAtom, quorumOf, type Atom } from "./condition.js";
import { timelineOfPart, type EvaluatedParts } from "./evaluate.js";

/** An atom with its state at the instant asked about. */
export interface AtomState {
  readonly atom: Atom;
  readonly state: TruthState;
}

/**
 * The atoms that make a known state what it is at `instant`: of an "all" that is on every operand, of one that is off
 * the operands that are off, and so on. Empty where the whole is unknown. In the order of the expression, each atom
 * once.
 */
export function decidingAtoms(expression: Expression, parts: EvaluatedParts, instant: number): AtomState[] {
  const found = new Map<Atom, AtomState>();
  const visit = (part: Expression): void => {
    const state = stateAt(timelineOfPart(part, parts), instant);
    if (state !== ON && state !== OFF) return;
    if (isAtom(part)) found.set(part, { atom: part, state });
    else if (part.op === "not") visit(part.of);
    // A known "all", "any" or "at least" rests on the operands that share its state: the others are too few to change
    // it.
    else part.of.filter((operand) => stateAt(timelineOfPart(operand, parts), instant) === state).forEach(visit);
  };
  visit(expression);
  return [...found.values()];
}

/**
 * The fewest atoms that would have to change for the expression to be on at `instant`; empty when it is.
 * all = every operand's, any = the cheapest operand's, at least k = the k cheapest operands'. Of equals, the first.
 * One signal named in two atoms counts twice: this explains, it does not prove.
 */
function blockingAtoms(expression: Expression, parts: EvaluatedParts, instant: number): AtomState[] {
  const visit = (part: Expression, wanted: typeof ON | typeof OFF): AtomState[] => {
    const state = stateAt(timelineOfPart(part, parts), instant);
    if (state === wanted) return [];
    if (isAtom(part)) return [{ atom: part, state }];
    if (part.op === "not") return visit(part.of, wanted === ON ? OFF : ON);
    const quorum = quorumOf(part);
    // To be off, enough operands must be off to put the quorum out of reach.
    const needed = wanted === ON ? quorum : part.of.length - quorum + 1;
    return part.of
      .map((operand) => visit(operand, wanted))
      .toSorted((a, b) => a.length - b.length)
      .slice(0, needed)
      .flat();
  };
  const once = new Map(visit(expression, ON).map((one) => [one.atom, one]));
  return [...once.values()];
}

/**
 * The {@link blockingAtoms} at the instant of the window `[from, to]` at which they are fewest, the earliest of equals:
 * empty where the expression is on at some instant. Looks at the window's beginning and wherever an atom changes.
 */
export function fewestBlocking(expression: Expression, parts: EvaluatedParts, from: number, to: number): AtomState[] {
  const first = Math.max(from, timelineOfPart(expression, parts).start);
  const instants = new Set([first]);
  for (const [part, { times }] of parts) {
    if (!isAtom(part)) continue;
    for (const at of times.subarray(firstAtOrAfter(times, first))) {
      if (at > to) break;
      instants.add(at);
    }
  }
  const blocking = [...instants].sort((a, b) => a - b).map((instant) => blockingAtoms(expression, parts, instant));
  return blocking[minIndex(blocking, (atoms) => atoms.length)] ?? [];
}
