import type { Interval } from "../../ground/intervals.js";
import type { LocalClock } from "../local-time.js";
import { shortDay } from "./day-places.js";
import { type TimeTick, timeTicks } from "./time-ticks.js";

/** Ticks of a window that may hold a midnight: there, and at the first of a window of several days, the day stands instead of the time. */
export function pictureTicks({ from, to }: Interval, clock: LocalClock, most: number): TimeTick[] {
  return timeTicks(from, to, most, clock).map((tick) => (tick.label === "00:00" ? { at: tick.at, label: shortDay(tick.at, clock) } : tick));
}
