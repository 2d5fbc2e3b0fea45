import { sum } from "d3-array";
import { intersection, union, type Interval } from "../../ground/intervals.js";
import { HOUR_MS, HOURS_PER_DAY, YEAR_MS } from "../../ground/units.js";
import type { Covers } from "../../result/cover.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import type { RuleOverHistory } from "../replay/replay.js";
import type { LocalDay } from "./local-days.js";

/** When a firing would have been confirmed as right or wrong, had there been one. */
export interface Verifiable {
  /** Milliseconds of each hour of the day, midnight first, … */
  readonly byHourMs: readonly number[];
  /** … and the share of the time seen that they are. */
  readonly shareByHour: readonly number[];
}

/**
 * The time in which every way of firing could be heard and somebody outside the rule could tell, from the instant to
 * as long after it as a firing may be early, whether acting was right.
 */
export function verifiableTime({ witnesses, tolerance }: Pick<RuleOverHistory, "witnesses" | "tolerance">, seen: Timeline, days: readonly LocalDay[]): Verifiable {
  const { truth } = witnesses.outside;
  const known = union([...stretches(truth, ON), ...stretches(truth, OFF)]);
  const heard = stretches(seen, ON);
  const confirmed = intersection(heard, known.map(({ from, to }) => ({ from, to: to - tolerance.earlyMs })).filter(({ from, to }) => from < to));
  const [byHourMs, seenByHour] = [hoursOf(confirmed, days), hoursOf(heard, days)];
  return { byHourMs, shareByHour: byHourMs.map((ms, hour) => (seenByHour[hour] === undefined || seenByHour[hour] === 0 ? 0 : ms / seenByHour[hour])) };
}

/** How many of the instants nobody could be expected to confirm, each by its hour of the day. */
export function expectedUnverified(instants: readonly number[], { shareByHour }: Verifiable, days: readonly LocalDay[]): number {
  return sum(instants, (at) => 1 - (shareByHour[hourOf(at, days)] ?? 0));
}

/**
 * Years over which firings at any hour of the day would have been confirmed: 24 times the hour that was covered least.
 * If wrong firings come at that hour alone, this is what was seen of them; 0 when an hour was never covered.
 */
export function coveredYears(byHourMs: readonly number[]): number {
  return byHourMs.length < HOURS_PER_DAY ? 0 : (HOURS_PER_DAY * Math.min(...byHourMs)) / YEAR_MS;
}

/** Years in which a firing would have been confirmed, at whatever hour of the day. */
export function confirmedYears({ confirmedHours }: Pick<Covers, "confirmedHours">): number {
  return (sum(confirmedHours) * HOUR_MS) / YEAR_MS;
}

function hoursOf(intervals: readonly Interval[], days: readonly LocalDay[]): number[] {
  const byHour = new Array<number>(HOURS_PER_DAY).fill(0);
  for (const day of days) {
    for (const { from, to } of intersection([day], intervals)) {
      for (let at = from; at < to; ) {
        const hour = Math.min(HOURS_PER_DAY - 1, Math.floor((at - day.midnight) / HOUR_MS));
        const end = hour === HOURS_PER_DAY - 1 ? to : Math.min(to, day.midnight + (hour + 1) * HOUR_MS);
        byHour[hour] = (byHour[hour] ?? 0) + end - at;
        at = end;
      }
    }
  }
  return byHour;
}

function hourOf(at: number, days: readonly LocalDay[]): number {
  const day = days.findLast((one) => one.from <= at);
  return day === undefined ? 0 : Math.min(HOURS_PER_DAY - 1, Math.floor((at - day.midnight) / HOUR_MS));
}
