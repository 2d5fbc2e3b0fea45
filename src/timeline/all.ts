import { atLeast } from "./at-least.js";
import type { Timeline } from "./timeline.js";

/**
 * Kleene's "and" of any number of timelines: off where one is off, on where every one is on, else unknown.
 * @throws RangeError when there is no timeline, or they do not share start and end.
 */
export function all(xs: readonly Timeline[]): Timeline {
  return atLeast(Math.max(1, xs.length), xs);
}
