/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of instants; there is a state for each */
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "./timeline.js";

/**
 * A timeline over `[start, end)` from steps `[instant, state]` in time order, for short lists written by hand.
 * The state is unknown before the first step. Steps before `start` set the state at `start`; steps at or after `end`
 * are dropped; the last step wins at equal instants; equal neighbours are merged.
 * @throws RangeError when `start < end` does not hold, an instant is not a number or goes back in time, or a state is
 * not 0, 1 or 2.
 */
export function timelineOf(start: number, end: number, steps: readonly (readonly [number, TruthState])[]): Timeline {
  return canonicalTimeline(
    start,
    end,
    steps.map(([instant]) => instant),
    steps.map(([, state]) => state),
  );
}

/**
 * The same as {@link timelineOf} from two parallel arrays: `states[i]` holds from `times[i]` on.
 * The arrays are copied. Linear in their length.
 * @throws RangeError as {@link timelineOf}, and when the arrays differ in length.
 */
export function canonicalTimeline(start: number, end: number, times: ArrayLike<number>, states: ArrayLike<number>): Timeline {
  requireExtent(start, end);
  if (times.length !== states.length) {
    throw new RangeError(`Expected as many states as instants, got ${times.length} instants and ${states.length} states.`);
  }
  const outTimes = new Float64Array(times.length + 1);
  const outStates = new Uint8Array(times.length + 1);
  outTimes[0] = start;
  outStates[0] = UNKNOWN;
  let count = 1;
  let previous = -Infinity;
  for (let i = 0; i < times.length; i += 1) {
    const instant = times[i]!;
    const state = states[i]!;
    if (!(instant >= previous)) throw new RangeError(`Steps must be in time order: ${instant} comes after ${previous}.`);
    if (state !== OFF && state !== ON && state !== UNKNOWN) throw new RangeError(`A state is 0, 1 or 2, not ${state}.`);
    previous = instant;
    if (instant >= end) continue;
    const at = Math.max(instant, start);
    // A later step at the same instant replaces the earlier one. It may then equal the step before both.
    if (outTimes[count - 1] === at) count -= 1;
    if (count > 0 && outStates[count - 1] === state) continue;
    outTimes[count] = at;
    outStates[count] = state;
    count += 1;
  }
  return { start, end, times: outTimes.slice(0, count), states: outStates.slice(0, count) };
}

function requireExtent(start: number, end: number): void {
  if (!(Number.isFinite(start) && Number.isFinite(end) && start < end)) {
    throw new RangeError(`A timeline needs finite instants with start < end, not [${start}, ${end}).`);
  }
}
