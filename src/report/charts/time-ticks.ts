import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { LocalClock } from "../local-time.js";

/** A mark on a time axis. */
export interface TimeTick {
  readonly at: number;
  readonly label: string;
}

const STEPS_MS = [
  ...[1, 2, 5, 10, 15, 30].map((x) => x * SECOND_MS),
  ...[1, 2, 5, 10, 15, 30].map((x) => x * MINUTE_MS),
  ...[1, 2, 3, 6, 12, 24, 48, 168].map((x) => x * HOUR_MS),
];

/** At most about `most` ticks on [from, to], at round times of the site's own clock. */
export function timeTicks(from: number, to: number, most: number, clock: LocalClock): TimeTick[] {
  const stepMs = STEPS_MS.find((step) => (to - from) / step <= most) ?? to - from;
  const offsetMs = clock.offsetMs(from);
  const write = stepMs < MINUTE_MS ? clock.time : clock.shortTime;
  const ticks: TimeTick[] = [];
  for (let wall = Math.ceil((from + offsetMs) / stepMs) * stepMs; wall - offsetMs <= to && stepMs > 0; wall += stepMs) {
    ticks.push({ at: wall - offsetMs, label: write(wall - offsetMs) });
  }
  return ticks;
}
