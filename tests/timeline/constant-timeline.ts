import { canonicalTimeline } from "../../src/timeline/make.js";
import type { Timeline, TruthState } from "../../src/timeline/timeline.js";

/** The timeline over `[start, end)` that never changes. */
export function constantTimeline(start: number, end: number, state: TruthState): Timeline {
  return canonicalTimeline(start, end, [start], [state]);
}
