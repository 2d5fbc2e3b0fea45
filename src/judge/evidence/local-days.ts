import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import type { Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";

/** A local day, cut to the period. Epoch milliseconds. */
export interface LocalDay extends Interval {
  /** Of the whole local day; the period may hold only a part of it. */
  readonly lengthMs: number;
  /** Such as `2026-10`. */
  readonly month: string;
  /** 1 for Monday to 7 for Sunday. */
  readonly weekday: number;
  /** The local midnight it began with, which may lie before the period. */
  readonly midnight: number;
}

/** The days by period and zone: a rule is judged anew for each answer that is supposed, always over the same days. */
const known = new WeakMap<Interval, Map<string, readonly LocalDay[]>>();

/** The local days that the period touches, in order; the first and the last may be cut. Remembered for as long as the period is. */
export function localDays(period: Interval, timeZone: string): readonly LocalDay[] {
  const byZone = known.get(period) ?? new Map<string, readonly LocalDay[]>();
  const days = byZone.get(timeZone) ?? daysOf(period, timeZone);
  known.set(period, byZone.set(timeZone, days));
  return days;
}

function daysOf({ from: start, to: end }: Interval, timeZone: string): LocalDay[] {
  const days: LocalDay[] = [];
  let midnight = DateTime.fromMillis(start, { zone: zoneOf(timeZone) }).startOf("day");
  while (midnight.toMillis() < end) {
    const next = midnight.plus({ days: 1 }).startOf("day");
    days.push({
      from: Math.max(start, midnight.toMillis()),
      to: Math.min(end, next.toMillis()),
      lengthMs: next.toMillis() - midnight.toMillis(),
      month: midnight.toFormat("yyyy-MM"),
      weekday: midnight.weekday,
      midnight: midnight.toMillis(),
    });
    midnight = next;
  }
  return days;
}

/** The local hour of an instant, 0 to 23. */
export function hourOfDay(at: number, timeZone: string): number {
  return new Date(at + zoneOf(timeZone).offset(at) * MINUTE_MS).getUTCHours();
}
