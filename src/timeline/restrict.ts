import { canonicalTimeline } from "./make.js";
import { firstAtOrAfter } from "../ground/search.js";
import { stepAt } from "./state-at.js";
import { UNKNOWN, type Timeline } from "./timeline.js";

/**
 * The part of `x` in the window `[from, to)`. Unknown where the window reaches beyond `x`, as in {@link stateAt}.
 * Linear in the number of steps inside the window.
 * @throws RangeError when `from < to` does not hold.
 */
export function restrict(x: Timeline, from: number, to: number): Timeline {
  const first = stepAt(x, from);
  if (from >= x.start && to <= x.end && from < to) {
    const beyond = firstAtOrAfter(x.times, to);
    const times = x.times.slice(first, beyond);
    times[0] = from;
    return { start: from, end: to, times, states: x.states.slice(first, beyond) };
  }
  const beyondLast = stepAt(x, to) + 1;
  const times = new Float64Array(beyondLast - first + 1);
  const states = new Uint8Array(beyondLast - first + 1).fill(UNKNOWN);
  times.set(x.times.subarray(first, beyondLast));
  states.set(x.states.subarray(first, beyondLast));
  times[beyondLast - first] = x.end;
  return canonicalTimeline(from, to, times, states);
}
