import { localDays } from "../../judge/evidence/local-days.js";
import { intersection, type Interval, totalMs } from "../../ground/intervals.js";
import { firstWhere } from "../../ground/search.js";
import { HOUR_MS } from "../../ground/units.js";

/** The local days of a period, to sort instants and stretches into. */
export interface Days {
  readonly count: number;
  /** The day of an instant, from 0; instants outside the period belong to the first or the last. */
  readonly dayOf: (at: number) => number;
  /** Hours of the stretches by day, to a hundredth. */
  readonly hours: (stretches: readonly Interval[]) => number[];
  /** How many instants by day. */
  readonly counts: (instants: readonly number[]) => number[];
}

/** The days of a period in a time zone. */
export function daysOf(period: Interval, timeZone: string): Days {
  const days = localDays(period, timeZone);
  const dayOf = (at: number): number => Math.min(days.length - 1, Math.max(0, firstWhere(days.length, (i) => (days[i]?.from ?? Infinity) > at) - 1));
  return {
    count: days.length,
    dayOf,
    hours(stretches) {
      return days.map((day) => Math.round((100 * totalMs(intersection([day], stretches))) / HOUR_MS) / 100);
    },
    counts(instants) {
      const found = days.map(() => 0);
      for (const at of instants) found[dayOf(at)] = (found[dayOf(at)] ?? 0) + 1;
      return found;
    },
  };
}
