import type { Interval } from "../../ground/intervals.js";
import { DAY_MS, HOUR_MS, SECOND_MS } from "../../ground/units.js";
import type { LocalClock } from "../local-time.js";

/** A stretch of one local day: which day of the period, counted from 0, and its hours. */
export interface DayPiece {
  readonly day: number;
  readonly fromHour: number;
  readonly toHour: number;
}

/** How many local days a period touches. */
export function dayCount({ from, to }: Interval, clock: LocalClock): number {
  return wallDay(to - 1, clock) - wallDay(from, clock) + 1;
}

/** Local days since the first midnight of the period, with their fraction by the clock on the wall. */
export function dayPlace(instant: number, { from }: Interval, clock: LocalClock): number {
  return wall(instant, clock) / DAY_MS - wallDay(from, clock);
}

/**
 * Stretches in seconds since the period's beginning, cut at local midnights. Hours are those of the clock on the wall:
 * in the night of a clock change an hour is drawn twice, or none.
 */
export function dayPieces(stretches: readonly (readonly [number, number])[], period: Interval, clock: LocalClock): DayPiece[] {
  const first = wallDay(period.from, clock);
  return stretches.flatMap(([fromSeconds, toSeconds]) => {
    const [from, to] = [fromSeconds, toSeconds].map((seconds) => wall(period.from + seconds * SECOND_MS, clock)) as [number, number];
    const pieces: DayPiece[] = [];
    for (let day = Math.floor(from / DAY_MS); day * DAY_MS < to; day += 1) {
      const midnight = day * DAY_MS;
      pieces.push({ day: day - first, fromHour: (Math.max(from, midnight) - midnight) / HOUR_MS, toHour: (Math.min(to, midnight + DAY_MS) - midnight) / HOUR_MS });
    }
    return pieces;
  });
}

function wall(instant: number, clock: LocalClock): number {
  return instant + clock.offsetMs(instant);
}

function wallDay(instant: number, clock: LocalClock): number {
  return Math.floor(wall(instant, clock) / DAY_MS);
}

/** `16 Oct`, or `day 16` in a redacted result. */
export function shortDay(instant: number, clock: LocalClock): string {
  const day = clock.day(instant);
  return /^\S+ (\d+ \S+) \d{4}$/.exec(day)?.[1] ?? day;
}

/** `16 to 17 Oct`, `31 Oct to 1 Nov`, `day 16 to day 17`, or one day. */
export function shortDays({ from, to }: Interval, clock: LocalClock): string {
  const [first, last] = [shortDay(from, clock), shortDay(to - 1, clock)];
  if (first === last) return first;
  const [day, month] = first.split(" ");
  return last.endsWith(` ${month ?? ""}`) && /^\d/.test(first) ? `${day ?? ""} to ${last}` : `${first} to ${last}`;
}
