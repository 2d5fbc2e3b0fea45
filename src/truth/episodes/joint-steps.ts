import { requireSharedExtent } from "../../timeline/at-least.js";
import type { Timeline, TruthState } from "../../timeline/timeline.js";

/** One stretch `[from, to)` over which neither of two timelines changes. */
export type JointStep = (from: number, to: number, first: TruthState, second: TruthState) => void;

/**
 * Walks two timelines side by side and calls `visit` for every stretch over which neither changes, in time order.
 * Linear in the number of steps; throws RangeError when the timelines do not cover the same time.
 */
export function eachJointStep(first: Timeline, second: Timeline, visit: JointStep): void {
  requireSharedExtent([first, second]);
  let i = 0;
  let j = 0;
  let from = first.start;
  while (from < first.end) {
    const firstEnd = first.times[i + 1] ?? first.end;
    const secondEnd = second.times[j + 1] ?? second.end;
    const to = Math.min(firstEnd, secondEnd);
    visit(from, to, first.states[i] as TruthState, second.states[j] as TruthState);
    if (firstEnd === to) i += 1;
    if (secondEnd === to) j += 1;
    from = to;
  }
}
