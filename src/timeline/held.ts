import { canonicalTimeline } from "./make.js";
import { OFF, ON, UNKNOWN, type Timeline } from "./timeline.js";

/**
 * "On all through the last `durationMs`" (the past-time operator *historically*), over the closed window `[t − d, t]`:
 * off at `t` when `x` was off at some instant of the window, on when it was on throughout, else unknown.
 * Time before `start` counts as unknown. So `x` on during `[a, b)` is held on during `[a + d, b)`, and
 * `x` off during `[a, b)` makes it off during `[a, b + d)`. A duration of 0 gives `x` back; `Infinity` means "ever since".
 * Linear in the number of steps.
 * @throws RangeError when the duration is negative or not a number.
 */
export function held(x: Timeline, durationMs: number): Timeline {
  requireDuration(durationMs);
  const count = x.times.length;
  const times = new Float64Array(3 * count);
  const states = new Uint8Array(3 * count);
  let written = 0;
  const put = (at: number, state: number): void => {
    times[written] = at;
    states[written] = state;
    written += 1;
  };
  // Until this instant the window still reaches back into an off stretch.
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
    if (offUntil > from) put(from, OFF);
    const unknownFrom = Math.max(from, offUntil);
    if (unknownFrom < to) put(unknownFrom, UNKNOWN);
    // An earlier off ended at or before `from`, so its shadow ends no later than `from + durationMs`.
    if (state === ON && from + durationMs < to) put(from + durationMs, ON);
  }
  return canonicalTimeline(x.start, x.end, times.subarray(0, written), states.subarray(0, written));
}

/** @throws RangeError when a duration is negative or not a number. */
export function requireDuration(durationMs: number): void {
  if (!(durationMs >= 0)) throw new RangeError(`A duration is 0 ms or more, not ${durationMs}.`);
}
