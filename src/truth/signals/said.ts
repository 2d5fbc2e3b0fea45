import { OFF } from "../../timeline/timeline.js";

/** When a signal said what: instants in order, and states as `readingStates` gives them: 0, 1, 2 (lost) or 3 (between the states). */
export interface Said {
  readonly times: Float64Array;
  readonly states: Uint8Array;
}

/** How long after the i-th time something was said the next was; infinity after the last. */
export function untilNext({ times }: Said, i: number): number {
  return (times[i + 1] ?? Infinity) - (times[i] ?? 0);
}

/** The same with an "off" so long after each of these. */
export function endedAfter({ times, states }: Said, which: (i: number) => boolean, ms: number): Said {
  const steps = Array.from(times, (at, i) => [{ at, state: states[i] ?? OFF }, ...(which(i) ? [{ at: at + ms, state: OFF }] : [])]).flat();
  return { times: Float64Array.from(steps, ({ at }) => at), states: Uint8Array.from(steps, ({ state }) => state) };
}
