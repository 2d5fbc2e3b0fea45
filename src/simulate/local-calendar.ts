import { IANAZone } from "luxon";
import { DAY_MS } from "../ground/units.js";
import type { Interval } from "../ground/intervals.js";
import { required } from "./required.js";

/** Day names as scenario files write them; index 0 is Monday. */
export const dayNames = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;

/** One of {@link dayNames}. */
export type DayName = (typeof dayNames)[number];

/**
 * The instant of a local date `yyyy-MM-dd` and wall time `HH:mm[:ss]` in a zone. A repeated local time means its first
 * pass, a skipped one is shifted forward by the gap. Worked out from the zone's offsets a day before and after:
 * the calendar library's own answer for repeated times depends on today's date, and a scenario must not.
 * @throws RangeError when the text is no date or time that exists.
 */
export function instantOf(zone: string, date: string, time = "00:00"): number {
  const asUtc = Date.parse(`${date}T${time}Z`);
  // Date.parse lets 30 February roll over into March; the calendar does not.
  if (Number.isNaN(asUtc) || !new Date(asUtc).toISOString().startsWith(date)) throw new RangeError(`Not a local time in ${zone}: ${date} ${time}.`);
  const before = offsetMs(zone, asUtc - DAY_MS);
  const after = offsetMs(zone, asUtc + DAY_MS);
  const fits = [asUtc - before, asUtc - after].filter((instant) => instant + offsetMs(zone, instant) === asUtc);
  return fits.length === 0 ? asUtc - before : Math.min(...fits);
}

/** The zone's offset from UTC at an instant, in milliseconds. */
function offsetMs(zone: string, instant: number): number {
  return IANAZone.create(zone).offset(instant) * 60_000;
}

/** The local date `yyyy-MM-dd` at an instant. */
function localDate(zone: string, instant: number): string {
  return new Date(instant + offsetMs(zone, instant)).toISOString().slice(0, 10);
}

/** The date `days` later; earlier if negative. */
export function daysLater(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00Z`) + days * DAY_MS).toISOString().slice(0, 10);
}

/** The local dates whose day has a part in `[from, to)`, in order, each with its weekday. */
export function localDates(zone: string, from: number, to: number): { date: string; day: DayName }[] {
  const dates: { date: string; day: DayName }[] = [];
  for (let date = localDate(zone, from); instantOf(zone, date) < to; date = daysLater(date, 1)) {
    const weekday = (new Date(`${date}T00:00Z`).getUTCDay() + 6) % 7;
    dates.push({ date, day: required(dayNames[weekday], `a name for day ${weekday} of the week`) });
  }
  return dates;
}

/** Each day's stretch between two wall times (past midnight when `until <= since`), within `[from, to)`. */
export function dailyWindows(zone: string, from: number, to: number, since: string, until: string): Interval[] {
  return localDates(zone, from - DAY_MS, to)
    .map(({ date }) => ({
      from: Math.max(from, instantOf(zone, date, since)),
      to: Math.min(to, instantOf(zone, daysLater(date, until <= since ? 1 : 0), until)),
    }))
    .filter((window) => window.from < window.to);
}

/** True when the zone's offset changes within `marginMs` of the instant: local stamps are not in order there. */
export function nearClockChange(zone: string, instant: number, marginMs: number): boolean {
  return offsetMs(zone, instant - marginMs) !== offsetMs(zone, instant + marginMs);
}
