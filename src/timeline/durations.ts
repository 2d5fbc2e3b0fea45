/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import { OFF, ON, UNKNOWN, type Timeline } from "./timeline.js";

/** Milliseconds spent in each state; the three sum to `end − start`. */
export interface Durations {
  readonly offMs: number;
  readonly onMs: number;
  readonly unknownMs: number;
}

/** How long `x` is off, on and unknown. */
export function durations(x: Timeline): Durations {
  const totals = new Float64Array(3);
  for (let i = 0; i < x.times.length; i += 1) {
    const to = i + 1 < x.times.length ? x.times[i + 1]! : x.end;
    totals[x.states[i]!]! += to - x.times[i]!;
  }
  return { offMs: totals[OFF]!, onMs: totals[ON]!, unknownMs: totals[UNKNOWN]! };
}
