/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import type { Timeline, TruthState } from "./timeline.js";
import type { Interval } from "../ground/intervals.js";

/** The unbroken stretches during which `x` is in `state`, in order. The last may end at `x.end`. */
export function stretches(x: Timeline, state: TruthState): Interval[] {
  const found: Interval[] = [];
  for (let i = 0; i < x.times.length; i += 1) {
    if (x.states[i] !== state) continue;
    found.push({ from: x.times[i]!, to: i + 1 < x.times.length ? x.times[i + 1]! : x.end });
  }
  return found;
}
