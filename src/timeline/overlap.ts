/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps, and states are 0, 1 or 2 */
import { requireSharedExtent } from "./at-least.js";
import type { Timeline } from "./timeline.js";

/**
 * Milliseconds that `a` and `b` spend in each pair of states: 9 totals, at index `stateOfA * 3 + stateOfB`.
 * @throws RangeError when the two do not share start and end.
 */
export function overlap(a: Timeline, b: Timeline): Float64Array {
  requireSharedExtent([a, b]);
  const totals = new Float64Array(9);
  let i = 0;
  let j = 0;
  let from = a.start;
  while (from < a.end) {
    const endOfA = i + 1 < a.times.length ? a.times[i + 1]! : a.end;
    const endOfB = j + 1 < b.times.length ? b.times[j + 1]! : b.end;
    const to = Math.min(endOfA, endOfB);
    totals[a.states[i]! * 3 + b.states[j]!]! += to - from;
    if (endOfA === to) i += 1;
    if (endOfB === to) j += 1;
    from = to;
  }
  return totals;
}
