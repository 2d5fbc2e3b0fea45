/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import { canonicalTimeline } from "./make.js";
import { OFF, ON, UNKNOWN, type Timeline } from "./timeline.js";

/**
 * "On all through the last `durationMs`" (the past-time operator *historically*), over the closed window `[t − d, t]`:
 * off at `t` when `x` was off at some instant of the window, on when `x` was on throughout, else unknown.
 * Time before `start` counts as unknown. `x` on during `[a, b)` gives on during `[a + d, b)`; `x` off during `[a, b)`
 * gives off during `[a, b + d)`. A duration of 0 returns `x`; `Infinity` means "ever since the start".
 * Linear in the number of steps.
 * @throws RangeError when the duration is negative or not a number.
 */
export function held(x: Timeline, durationMs: number): Timeline {
  requireDuration(durationMs);
  const count = x.times.length;
  const times = new Float64Array(2 * count);
  const states = new Uint8Array(2 * count);
  let written = 0;
  const put = (at: number, state: number): void => {
    times[written] = at;
    states[written] = state;
    written += 1;
  };
  // The window reaches back into an off stretch until this instant.
  let offUntil = -Infinity;
  for (let i = 0; i < count; i += 1) {
    const from = x.times[i]!;
    const to = i + 1 < count ? x.times[i + 1]! : x.end;
    const state = x.states[i]!;
    if (state === OFF) {
      put(from, OFF);
      offUntil = to + durationMs;
      continue;
    }
    const unknownFrom = Math.max(from, offUntil);
    if (unknownFrom < to) put(unknownFrom, UNKNOWN);
    // Any earlier off stretch ended by `from`, so the window has left it by `from + durationMs`.
    if (state === ON && from + durationMs < to) put(from + durationMs, ON);
  }
  return canonicalTimeline(x.start, x.end, times.subarray(0, written), states.subarray(0, written));
}

/** @throws RangeError when a duration is negative or not a number. */
export function requireDuration(durationMs: number): void {
  if (!(durationMs >= 0)) throw new RangeError(`A duration is 0 ms or more, not ${durationMs}.`);
}
