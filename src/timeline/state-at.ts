import { UNKNOWN, type Timeline, type TruthState } from "./timeline.js";

/** The state at one instant (epoch milliseconds), by binary search. Unknown outside `[start, end)`. */
export function stateAt(timeline: Timeline, instant: number): TruthState {
  if (!(instant >= timeline.start && instant < timeline.end)) return UNKNOWN;
  return timeline.states[stepAt(timeline, instant)] as TruthState;
}

/**
 * The index of the step in force at `instant`: the last that begins at or before it; 0 before the start. Replays call
 * it often.
 */
export function stepAt(timeline: Timeline, instant: number): number {
  let low = 0;
  let high = timeline.times.length;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- `middle` lies below the number of steps
    if (timeline.times[middle]! <= instant) low = middle;
    else high = middle;
  }
  return low;
}
