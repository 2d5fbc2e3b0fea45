/* eslint-disable @typescript-eslint/no-non-null-assertion -- there is a place for every timeline, and the last step is never left */
import { requireSharedExtent } from "./at-least.js";
import type { Timeline, TruthState } from "./timeline.js";

/** The state of each timeline, in their order. */
type StatesOf<Lines extends readonly Timeline[]> = { readonly [Line in keyof Lines]: TruthState };

/**
 * Walks timelines side by side and calls `visit` for every stretch `[from, to)` over which none of them changes, in
 * time order. `states` is reused between calls. Linear in the steps times the number of timelines.
 * @throws RangeError when there is no timeline, or they do not cover the same time.
 */
export function walkTogether<Lines extends readonly Timeline[]>(
  timelines: readonly [...Lines],
  visit: (from: number, to: number, states: StatesOf<Lines>) => void,
): void {
  const { start, end } = requireSharedExtent(timelines);
  const step = timelines.map(() => 0);
  const states = timelines.map((one) => one.states[0] as TruthState);
  for (let from = start; from < end;) {
    const to = timelines.reduce((nearest, one, i) => Math.min(nearest, one.times[step[i]! + 1] ?? end), end);
    visit(from, to, states as StatesOf<Lines>);
    timelines.forEach((one, i) => {
      if (one.times[step[i]! + 1] !== to) return;
      step[i]! += 1;
      states[i] = one.states[step[i]!] as TruthState;
    });
    from = to;
  }
}
