import { atLeast } from "./at-least.js";
import type { Timeline } from "./timeline.js";

/**
 * Kleene's "or" of any number of timelines: on where one is on, off where every one is off, else unknown.
 * @throws RangeError when there is no timeline, or they do not share start and end.
 */
export function any(xs: readonly Timeline[]): Timeline {
  return atLeast(1, xs);
}
