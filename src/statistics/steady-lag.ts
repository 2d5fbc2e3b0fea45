import { firstAtOrAfter } from "../ground/search.js";
import { medianOf } from "./median.js";
import { binomialTail } from "./tails.js";

/** Turns in time order: turn i went to state `to[i]` at instant `at[i]` (epoch milliseconds). */
export interface TurnList {
  readonly at: ArrayLike<number>;
  readonly to: ArrayLike<number>;
}

/** The instants of turns by the state turned to, 0 or 1, each in time order. */
export type TurnsByState = readonly [off: readonly number[], on: readonly number[]];

/** A list of turns by the state turned to. */
export function byState({ at, to }: TurnList): TurnsByState {
  const instants = Array.from(at);
  return [instants.filter((_, i) => to[i] === 0), instants.filter((_, i) => to[i] === 1)];
}

/** How two sensors' turns compare. */
export interface SteadyLag {
  /** Turns that have a match in the other list. */
  readonly matched: number;
  /** Matches whose lag is the usual one in that direction, to within half a second. */
  readonly steady: number;
  /** Turns in the longer list. */
  readonly turns: number;
  /** The usual lag is more than {@link SAME_MS} in at least one direction: they do not change in the same second. */
  readonly lags: boolean;
  /** For each match, the instants of both, the state, and whether it is steady. */
  readonly pairs: readonly { readonly one: number; readonly other: number; readonly to: number; readonly steady: boolean }[];
}

/**
 * A lag this close to the usual one is the same: stamps to the second must be equal, finer ones lie within one second.
 */
const SAME_MS = 500;

/**
 * Two independent sensors keep their usual lag to the second in at most this share of turns. Contacts on a fast door,
 * stamped to the second, do so in two turns out of three. Our own choice.
 */
const MOST_HONEST_STEADY = 0.75;
/** Nothing is said when a smaller share of the matches has the usual lag, however many there are. Our own choice. */
const LEAST_STEADY = 0.9;
/**
 * Nothing is said when a smaller share of the longer list has a match: a copy sees what the other sees. Our own choice.
 */
const LEAST_MATCHED = 0.5;
/** Grids so coarse that stamps which keep to them tell nothing about seconds, coarsest first. */
const GRIDS_MS: readonly number[] = [3_600_000, 900_000, 300_000, 60_000, 30_000, 10_000];
/**
 * One recorder reads both when this share of the shorter list of readings lies at instants of the other. Our own
 * choice.
 */
const LEAST_SAME_INSTANTS = 0.5;
/** A signal with at least this many readings a turn is read at intervals, not at its turns. Our own choice. */
const READINGS_A_TURN = 4;

/**
 * How steady the lag between two sensors' turns is: two sensors that see the same thing independently are not equally
 * late at every turn. Two turns match when they go to the same state, each is the other's nearest, and they lie at most
 * `windowMs` apart. The usual lag is the median over the matches to that state.
 */
export function steadyLag(one: TurnsByState, other: TurnsByState, windowMs: number): SteadyLag {
  let lags = false;
  const pairs = ([0, 1] as const).flatMap((to) => {
    const [mine, theirs] = [one[to], other[to]];
    const matches = mine.flatMap((at) => {
      const near = nearestTo(theirs, at);
      return near !== null && Math.abs(near - at) <= windowMs && nearestTo(mine, near) === at ? [{ one: at, other: near }] : [];
    });
    const usual = medianOf(matches.map((match) => match.other - match.one)) ?? 0;
    lags ||= Math.abs(usual) > SAME_MS;
    return matches.map((match) => ({ ...match, to, steady: Math.abs(match.other - match.one - usual) <= SAME_MS }));
  });
  return { matched: pairs.length, steady: pairs.filter((pair) => pair.steady).length, turns: Math.max(one[0].length + one[1].length, other[0].length + other[1].length), lags, pairs };
}

/**
 * An upper bound of the chance that independent sensors show a lag as steady; null when it is not steady, or few turns
 * match.
 */
export function steadyChance({ matched, steady, turns }: SteadyLag): number | null {
  if (matched === 0 || steady < LEAST_STEADY * matched || matched < LEAST_MATCHED * turns) return null;
  return binomialTail(steady, matched, MOST_HONEST_STEADY);
}

/** The predicate of a sentence about such a pair, with its numbers. */
export function steadyText({ matched, steady, lags }: SteadyLag): string {
  return `changed ${lags ? "with the same delay to the second" : "in the same second"} at ${steady} of ${matched} turns`;
}

/** Whether nearly all instants lie on one of the coarse grids, see {@link gridOf}. */
export function keepsToGrid(at: ArrayLike<number>): boolean {
  return gridOf(at) > 0;
}

/**
 * The step in milliseconds of the coarsest grid on which nearly all instants lie, counted from the first of them; 0 for
 * none. It is how often a signal was read whose stamps only tell when it was read.
 */
export function gridOf(at: ArrayLike<number>): number {
  const instants = Array.from(at);
  const [first = 0] = instants;
  const onGrid = (gridMs: number): number => instants.filter((instant) => (instant - first) % gridMs === 0).length;
  return GRIDS_MS.find((gridMs) => onGrid(gridMs) >= LEAST_STEADY * at.length) ?? 0;
}

/** When a signal was read, and how often it turned. */
export interface ReadAt {
  readonly readAt: ArrayLike<number>;
  readonly turns: number;
}

/** Whether one recorder reads both at the same instants: their turns then coincide and that means nothing. */
export function readTogether(one: ReadAt, other: ReadAt): boolean {
  if ([one, other].some(({ readAt, turns }) => readAt.length < READINGS_A_TURN * turns)) return false;
  const instants = new Set(Array.from(other.readAt));
  const same = Array.from(one.readAt).filter((at) => instants.has(at)).length;
  return same >= LEAST_SAME_INSTANTS * Math.min(one.readAt.length, other.readAt.length);
}

/** The instant nearest to another, the earlier of two equally near; null without any. */
function nearestTo(sorted: readonly number[], instant: number): number | null {
  const index = firstAtOrAfter(sorted, instant);
  const [before, after] = [sorted[index - 1], sorted[index]];
  if (after === undefined) return before ?? null;
  return before !== undefined && instant - before <= after - instant ? before : after;
}
