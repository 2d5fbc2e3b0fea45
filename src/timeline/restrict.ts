import { canonicalTimeline } from "./make.js";
import { stepAt } from "./state-at.js";
import { UNKNOWN, type Timeline } from "./timeline.js";

/**
 * `x` seen through the window `[from, to)`: the same state at every instant of the window. Where the window reaches
 * beyond `x`, nobody can tell: unknown, as {@link stateAt} has it. Linear in the number of steps inside the window.
 * @throws RangeError when `from < to` does not hold.
 */
export function restrict(x: Timeline, from: number, to: number): Timeline {
  if (to <= x.start || from >= x.end) return canonicalTimeline(from, to, [], []);
  const first = stepAt(x, from);
  const beyondLast = stepAt(x, to) + 1;
  const times = new Float64Array(beyondLast - first + 1);
  const states = new Uint8Array(beyondLast - first + 1).fill(UNKNOWN);
  times.set(x.times.subarray(first, beyondLast));
  states.set(x.states.subarray(first, beyondLast));
  times[beyondLast - first] = x.end;
  return canonicalTimeline(from, to, times, states);
}
