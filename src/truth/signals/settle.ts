import { OFF, ON, UNKNOWN, type TruthState } from "../../timeline/timeline.js";
import { BETWEEN } from "./reading-states.js";
import type { Interval } from "../../ground/intervals.js";

/** How a signal's readings become a step function. */
export interface SettleRule {
  /** A new state must stand this long (ms) before it is taken on. */
  readonly settleMs: number;
  /**
   * After a dark stretch without a word, take the last state on again: for signals that only report changes, where
   * saying nothing means that nothing changed. A periodic signal has to speak first.
   */
  readonly resumes: boolean;
  /**
   * Readings between the states (`BETWEEN`) must stand this long (ms) before the signal is unknown: until then they
   * change nothing.
   */
  readonly betweenMs: number;
  /** Once they have, it is unknown from the first of them on: known afterwards, but to no live system at the time. */
  readonly backdates: boolean;
}

/** Steps in time order, not yet canonical: what {@link canonicalTimeline} takes. Unknown before the first. */
export interface Steps {
  readonly times: Float64Array;
  readonly states: Uint8Array;
}

/**
 * Walks readings and dark stretches once, in time order, and says from which instant on which state holds.
 *
 * - Settling is causal: a new state is taken on at `its first reading + settleMs`, provided that no reading up to and
 *   including that instant says otherwise. A live system could not have known earlier.
 * - Unknown needs no settling: it holds at once.
 * - A reading between the states is neither: it ends the settling of another state, and makes the signal unknown once
 *   it has stood for `betweenMs`. One caught while a vehicle drives in thus leaves the old state until the new one has
 *   settled.
 * - Coming back from unknown, any state must settle anew, the old one too. Were the old state resumed at once, a new
 *   one would follow it one settling time later, and a mere return would look like a turn.
 * - During a dark stretch readings are taken in but nothing is said; what has settled by its end holds from its end.
 *
 * `states[i]` is what the reading at `times[i]` says. `dark` must be in order and disjoint; it may touch. A dark
 * stretch that begins at the instant of a reading begins after it; one that ends at a reading's instant ends with it.
 * Linear.
 */
export function settledSteps(times: Float64Array, states: Uint8Array, dark: readonly Interval[], rule: SettleRule): Steps {
  const room = 2 * (times.length + dark.length);
  const outTimes = new Float64Array(room);
  const outStates = new Uint8Array(room);
  let written = 0;
  let settled = UNKNOWN as TruthState;
  let candidate = null as TruthState | typeof BETWEEN | null;
  let candidateSince = 0;
  let darkUntil = -Infinity;
  let nextDark = 0;

  const say = (at: number, state: TruthState): void => {
    settled = state;
    outTimes[written] = at;
    outStates[written] = state;
    written += 1;
  };
  // Strictly before: a reading at the very instant of taking on may still contradict.
  const takeOnBefore = (instant: number): void => {
    if (candidate === null) return;
    const at = Math.max(candidateSince + (candidate === BETWEEN ? rule.betweenMs : rule.settleMs), darkUntil);
    if (at >= instant) return;
    if (candidate !== BETWEEN) say(at, candidate);
    else if (settled !== UNKNOWN) say(rule.backdates ? Math.max(candidateSince, darkUntil) : at, UNKNOWN);
    candidate = null;
  };
  const enterDark = (stretch: Interval): void => {
    takeOnBefore(stretch.from);
    darkUntil = stretch.to;
    if (!rule.resumes) candidate = null;
    else if (candidate === null && settled !== UNKNOWN) {
      candidate = settled;
      candidateSince = -Infinity;
    }
    if (settled !== UNKNOWN) say(stretch.from, UNKNOWN);
  };
  const enterDarkBefore = (instant: number): void => {
    for (let stretch = dark[nextDark]; stretch !== undefined && stretch.from < instant; stretch = dark[nextDark]) {
      nextDark += 1;
      enterDark(stretch);
    }
  };

  for (let i = 0; i < times.length; i += 1) {
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the loop ends at the last instant
    const at = times[i]!;
    enterDarkBefore(at);
    takeOnBefore(at);
    const state = states[i] === ON ? ON : states[i] === OFF ? OFF : states[i] === BETWEEN ? BETWEEN : UNKNOWN;
    if (state === UNKNOWN) {
      candidate = null;
      if (settled !== UNKNOWN) say(at, UNKNOWN);
    } else if (state === settled || (state === BETWEEN && settled === UNKNOWN)) {
      candidate = null;
    } else if (state !== candidate) {
      candidate = state;
      candidateSince = at;
    }
  }
  enterDarkBefore(Infinity);
  takeOnBefore(Infinity);
  return { times: outTimes.subarray(0, written), states: outStates.subarray(0, written) };
}
