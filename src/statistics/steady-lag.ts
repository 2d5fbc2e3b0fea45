import { medianOf } from "./median.js";
import { binomialTail } from "./tails.js";

/** Turns in order of time: when, and to which state. */
export interface TurnList {
  readonly at: ArrayLike<number>;
  readonly to: ArrayLike<number>;
}

/** Two lists of turns laid side by side. */
export interface SteadyLag {
  /** Turns of the one that have one of the other near. */
  readonly matched: number;
  /** Of these: with the lag that is usual between the two in that direction, to within half a second. */
  readonly steady: number;
  /** The turns of the longer list. */
  readonly turns: number;
  /** The usual lag in one direction or the other is more than {@link SAME_MS}: they do not change in the same second. */
  readonly lags: boolean;
  /** For each match, the instants of both, and whether it is steady. */
  readonly pairs: readonly { readonly one: number; readonly other: number; readonly to: number; readonly steady: boolean }[];
}

/** Lags within this of the usual one are the same (milliseconds): stamps to the second must be equal, finer ones lie in one second. */
const SAME_MS = 500;

/**
 * Two honest sensors keep their usual lag to the second in at most this share of turns. Contacts on a swift door, stamped to the
 * second, do so in two turns out of three. Our own choice.
 */
const MOST_HONEST_STEADY = 0.75;
/** Below this share of matched turns with the usual lag nothing is said, however many turns there are. Our own choice. */
const LEAST_STEADY = 0.9;
/** And of the longer list of turns so many must have a match: one that sees much that the other does not is no copy of it. Our own choice. */
const LEAST_MATCHED = 0.5;
/** Stamps that all keep to a grid this coarse or coarser tell nothing about seconds (milliseconds). */
const gridsMs: readonly number[] = [3_600_000, 900_000, 300_000, 60_000, 30_000, 10_000];
/** Of the shorter list of readings, so many at the very instants of the other's: one recorder asks both. Our own choice. */
const LEAST_SAME_INSTANTS = 0.5;
/** A signal with more readings than so many a turn is read at intervals, not at its turns. Our own choice. */
const READINGS_A_TURN = 4;

/**
 * How steady the lag between two sensors' turns is. A turn is matched with the other's nearest turn in the same direction within
 * `windowMs`, if each is the other's nearest; the usual lag is the median of the matches in that direction. Linear after the search
 * for neighbours. Two sensors that see the same thing in their own ways are never equally late at turn after turn.
 */
export function steadyLag(one: TurnList, other: TurnList, windowMs: number): SteadyLag {
  let lags = false;
  const pairs = [0, 1].flatMap((to) => {
    const [mine, theirs] = [instantsTo(one, to), instantsTo(other, to)];
    const matches = mine.flatMap((at) => {
      const near = nearestTo(theirs, at);
      return near !== null && Math.abs(near - at) <= windowMs && nearestTo(mine, near) === at ? [{ one: at, other: near }] : [];
    });
    const usual = medianOf(matches.map((match) => match.other - match.one)) ?? 0;
    lags ||= Math.abs(usual) > SAME_MS;
    return matches.map((match) => ({ ...match, to, steady: Math.abs(match.other - match.one - usual) <= SAME_MS }));
  });
  return { matched: pairs.length, steady: pairs.filter((pair) => pair.steady).length, turns: Math.max(one.at.length, other.at.length), lags, pairs };
}

/** How likely a lag so steady is of two honest sensors at most; null where it is not steady enough to be told of, or few turns match. */
export function steadyChance({ matched, steady, turns }: SteadyLag): number | null {
  if (matched === 0 || steady < LEAST_STEADY * matched || matched < LEAST_MATCHED * turns) return null;
  return binomialTail(steady, matched, MOST_HONEST_STEADY);
}

/** A predicate for such a pair, with its numbers. */
export function steadyText({ matched, steady, lags }: SteadyLag): string {
  return `changed ${lags ? "with the same delay to the second" : "in the same second"} at ${steady} of ${matched} turns`;
}

/** Whether (nearly) all instants lie whole steps of a coarse grid apart. */
export function keepsToGrid(at: ArrayLike<number>): boolean {
  return gridOf(at) > 0;
}

/** The coarsest grid, in milliseconds, of which (nearly) all instants lie whole steps apart: how often something was read that tells only when it was read. 0 for none. */
export function gridOf(at: ArrayLike<number>): number {
  return gridsMs.find((grid) => Array.from(at).filter((instant) => (instant - at[0]!) % grid === 0).length >= LEAST_STEADY * at.length) ?? 0;
}

/** When a signal was read, and how often it turned. */
export interface ReadAt {
  readonly readAt: ArrayLike<number>;
  readonly turns: number;
}

/** Whether one recorder reads both at the same instants, turn or no turn: their turns then coincide without meaning anything. */
export function readTogether(one: ReadAt, other: ReadAt): boolean {
  if ([one, other].some(({ readAt, turns }) => readAt.length < READINGS_A_TURN * turns)) return false;
  const instants = new Set(Array.from(other.readAt));
  const same = Array.from(one.readAt).filter((at) => instants.has(at)).length;
  return same >= LEAST_SAME_INSTANTS * Math.min(one.readAt.length, other.readAt.length);
}

function instantsTo({ at, to }: TurnList, state: number): number[] {
  return Array.from(at).filter((_, i) => to[i] === state);
}

/** Of equally near ones the earlier. */
function nearestTo(sorted: readonly number[], instant: number): number | null {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle]! < instant) low = middle + 1;
    else high = middle;
  }
  const [before, after] = [sorted[low - 1], sorted[low]];
  if (before === undefined || after === undefined) return before ?? after ?? null;
  return instant - before <= after - instant ? before : after;
}
