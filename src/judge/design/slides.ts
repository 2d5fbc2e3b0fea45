import { group, sum } from "d3-array";
import { firstAtOrAfter, firstWhere } from "../../ground/search.js";
import type { DesignHistory, PartStretch } from "../../result/design.js";
import { clockSecondsFrom, DAY_SECONDS } from "./clock.js";
import { dayTypes, daysOfType } from "./day-types.js";

/**
 * How often a year both parts would be on at once if their days had nothing to do with each other: each day of the one
 * against every other day of the same type of the other, by the clock. An estimate and never a bound. Null with fewer
 * than two days of a type on which both moved.
 * The idea is the background of gravitational-wave searches (Abbott et al. 2016, Phys. Rev. Lett. 116, 061102; from
 * memory): sliding one detector's record against the other's shows what chance alone does.
 */
export function slidEstimate({ days, years, parts: [a, b] }: DesignHistory): number | null {
  if (years === 0) return null;
  const types = dayTypes.filter((type) => daysOfType(days, type) > 0);
  if (types.length === 0 || types.some((type) => daysOfType(days, type) < 2)) return null;
  const perType = types.map((type) => {
    const ofType = ({ day }: PartStretch): boolean => days[day] === type;
    return coincidencesOnOtherDays(a.stretches.filter(ofType), b.stretches.filter(ofType)) / (daysOfType(days, type) - 1);
  });
  return sum(perType) / years;
}

/**
 * Pairs of stretches on different days that overlap by the clock: all that overlap, less those of one day. As long as none
 * lasts half a day, it takes hardly more than sorting them.
 */
export function coincidencesOnOtherDays(a: readonly PartStretch[], b: readonly PartStretch[]): number {
  const [short, long] = [a.filter(isShort), a.filter((one) => !isShort(one))];
  const [shortOther, longOther] = [b.filter(isShort), b.filter((one) => !isShort(one))];
  const pairwise = sum(long, (one) => overlapping([one], b)) + sum(longOther, (other) => overlapping(short, [other]));
  const byDay = group(b, ({ day }) => day);
  return pairwise + begunWithin(short, shortOther, isBegun) + begunWithin(shortOther, short, isBegunLater) - sum(a, (one) => overlapping([one], byDay.get(one.day) ?? []));
}

/** Of two stretches shorter than half a day only one can begin while the other lasts. */
function isShort({ seconds }: PartStretch): boolean {
  return seconds <= DAY_SECONDS / 2;
}

function overlapping(a: readonly PartStretch[], b: readonly PartStretch[]): number {
  let count = 0;
  for (const one of a) for (const other of b) if (overlapByClock(one, other)) count += 1;
  return count;
}

/** Whether a stretch that begins at the clock time `at` begins while `one` lasts, or as it begins. */
function isBegun(one: ClockStretch, at: number): boolean {
  return clockSecondsFrom(one.at, at) < one.seconds;
}

/** The same, but not as it begins: that pair is counted from the other side. */
function isBegunLater(one: ClockStretch, at: number): boolean {
  return DAY_SECONDS - clockSecondsFrom(at, one.at) < one.seconds;
}

/** Pairs of which the other begins within the one, by the clock: those are next to one another once sorted by it. */
function begunWithin(ones: readonly PartStretch[], others: readonly PartStretch[], within: typeof isBegun): number {
  const times = Float64Array.from(others, ({ at }) => at).sort();
  return sum(ones, (one) => {
    const from = within === isBegun ? firstAtOrAfter(times, one.at) : firstWhere(times.length, (i) => (times[i] ?? Infinity) > one.at);
    return firstWhere(times.length, (i) => !within(one, times[(from + i) % times.length] ?? NaN));
  });
}

/** A stretch by the clock, whatever its day: seconds since midnight, and its length. */
type ClockStretch = Pick<PartStretch, "at" | "seconds">;

/** Whether two stretches would overlap if they fell on the same day. */
export function overlapByClock(a: ClockStretch, b: ClockStretch): boolean {
  const later = clockSecondsFrom(a.at, b.at);
  return later < a.seconds || DAY_SECONDS - later < b.seconds;
}

/** How many stretches of a part began on each day, by day number. */
export function stretchesByDay(stretches: readonly PartStretch[], days: number): number[] {
  const byDay = group(stretches, (one) => one.day);
  return Array.from({ length: days }, (_, day) => byDay.get(day)?.length ?? 0);
}
