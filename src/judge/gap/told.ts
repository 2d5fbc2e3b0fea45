/* eslint-disable @typescript-eslint/no-non-null-assertion -- the position runs below the number of atoms */
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
    const known = choices.get(at) ?? withCells(toldInstants(at, lag, critical, stepMs), critical);
    choices.set(at, known);
    return known;
  };
  const seenAt = (heard: Course, instant: number): number => {
    let bits = 0;
    for (let i = 0; i < atoms.length; i += 1) if (atomAt(atoms[i]!, heard, instant)) bits += 2 ** i;
    return bits;
  };
  // Except for atoms that ask how long a state lasted at some earlier time, what the rule sees depends on the cells
  // alone, and most courses share theirs with others.
  const byCells = !atoms.some((atom) => atom.op === "is" && atom.heldMs !== null && atom.recentlyMs !== null);
  const cells = 2 * critical.length + 2;
  const remembered = new Map<number, Seen>();
  const seen = (first: 0 | 1, told: readonly ToldInstant[]): Seen => {
    const place = told.reduce((sum, { cell }) => sum * cells + cell + 1, first + 1);
    const known = remembered.get(place);
    if (known !== undefined && byCells) return known;
    const heard = { first, changes: told.map(({ at }) => at) };
    const turning = told.findIndex(({ turns }) => turns);
    const now = seenAt(heard, 0);
    const before = turning < 0 ? now : seenAt(heard, -1);
    const made = { before, now, turning: turning < 0 ? null : turning, key: (now * 2 ** MOST_ATOMS + before) * 3 + turning + 1 };
    remembered.set(place, made);
    return made;
  };
  return ({ first, changes }) => {
    const found = new Map<number, Telling>();
    const put = (...told: readonly ToldInstant[]): void => {
      const { key, before, now, turning } = seen(first, told);
      if (!found.has(key)) found.set(key, { told: told.map(({ at }) => at), before, now, turning });
    };
    const [earlier, later] = changes;
    if (earlier === undefined) put();
    else if (later === undefined) for (const one of choicesAt(earlier)) put(one);
    else {
      for (const one of choicesAt(earlier)) {
        for (const two of choicesAt(later)) {
          const isNew = !byCells || one.cell === two.cell || (one.leads && two.leads);
          if (isNew && one.at < two.at && !(one.turns && two.turns)) put(one, two);
        }
      }
    }
    return [...found.values()];
  };
}

/** What the rule sees of told changes, and a number that is equal where all of it is. */
type Seen = Omit<Telling, "told"> & { readonly key: number };

interface ToldInstant {
  readonly at: number;
  /** A critical age has a cell of its own, as has all time between two: within one, nothing the rule asks turns. */
  readonly cell: number;
  /** An atom may turn when a change told then has the age it has when the rule acts. */
  readonly turns: boolean;
  /** The first of its cell. The others are needed only beside another change told in the same cell. */
  readonly leads: boolean;
}

function withCells(instants: readonly number[], critical: readonly number[]): ToldInstant[] {
  const begun = new Set<number>();
  return instants.map((at) => {
    const turns = critical.includes(-at);
    const cell = 2 * critical.filter((age) => age < -at).length + (turns ? 1 : 0);
    const leads = !begun.has(cell);
    begun.add(cell);
    return { at, cell, turns, leads };
  });
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
