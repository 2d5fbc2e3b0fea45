import type { FoundSignal } from "./found.js";
import { durationScalar } from "./yaml-lines.js";

/** A vehicle that passes by is gone after this time (our own choice; no export tells it). */
const METER_SETTLE_MS = 20_000;
/** This many lone readings show that they are no turns (our own choice). */
const FEWEST_LONE = 3;
/** A state that two readings must show lasts longer than one interval; half an interval is room for a late one (our own choice). */
const INTERVALS = 1.5;

/** A meter that tells of changes at once has this share of them off its interval (our own choice). */
const TELLS_AT_ONCE = 0.2;

/** How long a meter's new state must last, and why. */
export interface SettleFound {
  readonly text: string;
  readonly because: string;
}

/**
 * 20 s; longer for a meter that is read at intervals and now and then says otherwise for one reading only, such as a lost echo: no
 * vehicle comes and goes within one interval so often. A meter that tells of changes at once keeps the 20 s.
 */
export function findSettle(signal: Pick<FoundSignal, "states" | "expect" | "readings">): SettleFound {
  const { expect } = signal;
  const lone = loneReadings(signal);
  if (expect === null || lone === 0 || expect.ms * INTERVALS <= METER_SETTLE_MS) {
    return { text: durationScalar(METER_SETTLE_MS), because: "our own choice, no export tells it: anything shorter is not an arrival" };
  }
  const ms = Math.ceil(expect.ms * INTERVALS / 1000) * 1000;
  return { text: durationScalar(ms), because: `${lone} times it said otherwise for one reading only, so a new state counts from its second reading` };
}

/** How often a meter that is read at intervals said otherwise for one reading only, where that is too often for a vehicle; else 0. */
export function loneReadings({ states, expect, readings: { times } }: Pick<FoundSignal, "states" | "expect" | "readings">): number {
  let [lone, changes, atOnce] = [0, 0, 0];
  for (let i = 1; i < states.length; i++) {
    if (states[i] === states[i - 1]) continue;
    changes++;
    if ((times[i] ?? 0) - (times[i - 1] ?? 0) < (expect?.ms ?? 0) / 2) atOnce++;
    if (states[i - 1] === states[i + 1]) lone++;
  }
  return expect === null || lone < FEWEST_LONE || atOnce >= TELLS_AT_ONCE * changes ? 0 : lone;
}
