import { atomAt, type Course } from "./atom-at.js";
import type { LagRange } from "./gap.js";
import type { SignalQuestion } from "./question.js";

/** One way in which a signal may tell a subject's changes, as far as the rule can see at the instant it acts. */
export interface Telling {
  /** When each change is told, rising; milliseconds after the rule acts. */
  readonly told: readonly number[];
  /** Each atom just before the rule acts, and when it acts: one bit an atom, the first in the lowest. */
  readonly before: number;
  readonly now: number;
  /** The change told at an age at which an atom may turn: it may make the rule act. Null where none is. */
  readonly turning: number | null;
}

/** A signal with more atoms than this is not gone through: their bits must fit a whole number twice. */
export const MOST_ATOMS = 20;

/** Every way in which one signal may tell a course, each that looks different to the rule once. */
export type Teller = (course: Course) => Telling[];

/**
 * Makes the tellings of one signal. A change is told within the lag, and changes in the order in which they happen. Two
 * changes do not turn an atom at the same instant: that would be a coincidence, which no rule meets in practice.
 */
export function makeTeller({ atoms, critical }: SignalQuestion, lag: LagRange, stepMs: number): Teller {
  const choices = new Map<number, readonly ToldInstant[]>();
  const choicesAt = (at: number): readonly ToldInstant[] => {
    const known = choices.get(at) ?? toldInstants(at, lag, critical, stepMs).map((told) => ({ at: told, turns: critical.includes(-told) }));
    choices.set(at, known);
    return known;
  };
  const seen = (heard: Course, instant: number): number => {
    let bits = 0;
    for (let i = 0; i < atoms.length; i += 1) if (atomAt(atoms[i]!, heard, instant)) bits += 2 ** i;
    return bits;
  };
  return ({ first, changes }) => {
    const found = new Map<number, Telling>();
    const put = (told: readonly number[], turning: number | null): void => {
      const heard = { first, changes: told };
      const now = seen(heard, 0);
      const before = turning === null ? now : seen(heard, -1);
      const key = (now * 2 ** MOST_ATOMS + before) * 3 + (turning ?? 2);
      if (!found.has(key)) found.set(key, { told, before, now, turning });
    };
    const [earlier, later] = changes;
    if (earlier === undefined) put([], null);
    else if (later === undefined) for (const one of choicesAt(earlier)) put([one.at], one.turns ? 0 : null);
    else {
      for (const one of choicesAt(earlier)) {
        for (const two of choicesAt(later)) if (one.at < two.at && !(one.turns && two.turns)) put([one.at, two.at], one.turns ? 0 : two.turns ? 1 : null);
      }
    }
    return [...found.values()];
  };
}

interface ToldInstant {
  readonly at: number;
  /** An atom may turn when a change told then has the age it has when the rule acts. */
  readonly turns: boolean;
}

/**
 * The instants at which a change may be told that stand for all others: the ends of the lag, latest first, and inside
 * it each age at which an atom may turn, with a step to either side.
 */
export function toldInstants(at: number, { leastMs, mostMs }: LagRange, critical: readonly number[], stepMs: number): number[] {
  const instants = [at + mostMs];
  if (leastMs < mostMs) instants.push(at + leastMs);
  for (const age of critical) {
    for (let told = -age - stepMs; told <= -age + stepMs; told += stepMs) if (told > at + leastMs && told < at + mostMs && !instants.includes(told)) instants.push(told);
  }
  return instants;
}
