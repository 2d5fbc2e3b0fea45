import type { Timeline, TruthState } from "../timeline/timeline.js";

/**
 * Walks several timelines over the same period at once: `visit` is called for each stretch `[from, to)` over which none
 * of them changes, in order, with the state of each (`states[i]` of `timelines[i]`; the array is reused, do not keep it).
 * Without timelines there is one stretch, the whole period. Linear in the number of steps times the number of timelines.
 * @throws RangeError when a timeline covers another period.
 */
export function eachStretch(
  period: { readonly from: number; readonly to: number },
  timelines: readonly Timeline[],
  visit: (from: number, to: number, states: readonly TruthState[]) => void,
): void {
  for (const one of timelines) {
    if (one.start !== period.from || one.end !== period.to) {
      throw new RangeError(`A timeline over [${one.start}, ${one.end}) does not fit the period [${period.from}, ${period.to}).`);
    }
  }
  const step = timelines.map(() => 0);
  const states = timelines.map((one) => one.states[0] as TruthState);
  let from = period.from;
  while (from < period.to) {
    let to = period.to;
    for (let i = 0; i < timelines.length; i += 1) to = Math.min(to, timelines[i]!.times[step[i]! + 1] ?? period.to);
    visit(from, to, states);
    for (let i = 0; i < timelines.length; i += 1) {
      const one = timelines[i]!;
      if (one.times[step[i]! + 1] !== to) continue;
      step[i]! += 1;
      states[i] = one.states[step[i]!] as TruthState;
    }
    from = to;
  }
}
