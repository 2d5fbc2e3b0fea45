import { held } from "./held.js";
import { not } from "./not.js";
import type { Timeline } from "./timeline.js";

/**
 * "On at some instant of the last `durationMs`" (the past-time operator *once*), over the closed window `[t − d, t]`:
 * on at `t` when `x` was on at some instant of the window, off when it was off throughout, else unknown. Time before
 * `start` counts as unknown. `x` on during `[a, b)` gives on during `[a, b + d)`. A duration of 0 returns `x`. The dual
 * of {@link held}: "on at some instant" is "not off throughout".
 * @throws RangeError when the duration is negative or not a number.
 */
export function recently(x: Timeline, durationMs: number): Timeline {
  return not(held(not(x), durationMs));
}
