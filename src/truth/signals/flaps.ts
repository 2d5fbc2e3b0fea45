import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";

/**
 * A turn taken back within this time (milliseconds) is a flap. No vehicle, gate or person comes and goes within a
 * minute often enough to matter; a loose contact or a reading on the edge of its band does. Common practice, no source.
 */
export const FLAP_WITHIN_MS = 60_000;

/** How many turns of a timeline were taken back within {@link FLAP_WITHIN_MS} (inclusive); stretches of unknown are no turns. */
export function flapCount(timeline: Timeline): number {
  const { times, states } = timeline;
  let count = 0;
  for (let i = 1; i + 1 < times.length; i += 1) {
    const known = states[i] !== UNKNOWN && states[i - 1] !== UNKNOWN;
    if (known && states[i + 1] === states[i - 1] && times[i + 1]! - times[i]! <= FLAP_WITHIN_MS) count += 1;
  }
  return count;
}
