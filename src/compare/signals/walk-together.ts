import { requireSharedExtent } from "../../timeline/at-least.js";
import type { Timeline, TruthState } from "../../timeline/timeline.js";

/**
 * Walks any number of timelines at once and calls `visit` for every stretch over which none of them changes, in order;
 * `states` is reused between calls. Linear in the steps times the number of timelines.
 * @throws RangeError when they do not cover the same time; there must be at least one.
 */
export function walkTogether(timelines: readonly Timeline[], visit: (from: number, to: number, states: readonly TruthState[]) => void): void {
  requireSharedExtent(timelines);
  const { start, end } = timelines[0]!;
  const step = timelines.map(() => 0);
  const states = timelines.map((one) => one.states[0] as TruthState);
  for (let from = start; from < end;) {
    const to = timelines.reduce((nearest, one, i) => Math.min(nearest, one.times[step[i]! + 1] ?? end), end);
    visit(from, to, states);
    timelines.forEach((one, i) => {
      if (one.times[step[i]! + 1] !== to) return;
      step[i]! += 1;
      states[i] = one.states[step[i]!] as TruthState;
    });
    from = to;
  }
}
