/* eslint-disable @typescript-eslint/no-non-null-assertion -- the index runs below the number of readings; `overlap` gives nine totals, one for each pair of states */
import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import { chargingTimeline } from "../../truth/episodes/charging.js";
import { compareTurns, lagOfReferenceTurn } from "../../truth/episodes/compare-turns.js";
import type { Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import type { Reference } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { SignalSpec, Site } from "../../site/site.js";
import { medianOf } from "../../statistics/median.js";
import { overlap } from "../../timeline/overlap.js";
import { restrict } from "../../timeline/restrict.js";
import { durations } from "../../timeline/durations.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** What of a signal is followed from day to day. */
export type DailyQuantity = "reading" | "lag to on" | "lag to off" | "silence" | "contradiction";

/** One value a local day, for the days that have one. `day` is the day's first instant. */
export interface DailySeries {
  readonly what: DailyQuantity;
  readonly unit: "metres" | "seconds" | "share";
  readonly points: readonly { readonly day: number; readonly value: number }[];
}

/** The local days that lie wholly within `period`, as intervals: 23, 24 or 25 hours long. */
export function localDays(period: Interval, timeZone: string): Interval[] {
  const days: Interval[] = [];
  let day = DateTime.fromMillis(period.from, { zone: zoneOf(timeZone) }).startOf("day");
  if (day.toMillis() < period.from) day = day.plus({ days: 1 }).startOf("day");
  for (;;) {
    const next = day.plus({ days: 1 }).startOf("day");
    if (next.toMillis() > period.to) return days;
    days.push({ from: day.toMillis(), to: next.toMillis() });
    day = next;
  }
}

/**
 * What can be followed of one signal:
 * - `reading`: of a distance signal, the day's median of what it reads within its band (metres);
 * - `lag to on`, `lag to off`: the day's median lag behind `behind`, a reference without the signal and what depends on it (seconds);
 * - `silence`: the share of the day in which the signal was unknown;
 * - `contradiction`: the share of the day's jointly known time in which it contradicted that reference, where the diary
 *   or several other witnesses vouch for it: of two alone, nobody knows which one got worse.
 */
export function dailySeries(
  site: Site,
  spec: SignalSpec,
  account: SignalAccount,
  readings: Readings | undefined,
  { reference, behind }: { readonly reference: Reference; readonly behind: Reference },
  days: readonly Interval[],
): DailySeries[] {
  const series = (what: DailyQuantity, unit: DailySeries["unit"], valueOf: (day: Interval) => number | null): DailySeries => ({
    what,
    unit,
    points: days.flatMap((day) => {
      const value = valueOf(day);
      return value === null ? [] : [{ day: day.from, value }];
    }),
  });
  const lags = (to: 0 | 1): DailySeries => {
    const comparison = compareTurns(account, behind.timeline, to, site);
    const lagged = comparison.reference.flatMap((turn, i) => {
      const lagMs = lagOfReferenceTurn(comparison, i);
      return lagMs === null ? [] : [{ at: turn.at, lag: lagMs / 1000 }];
    });
    return series(to === ON ? "lag to on" : "lag to off", "seconds", (day) =>
      medianOf(lagged.filter(({ at }) => at >= day.from && at < day.to).map(({ lag }) => lag)),
    );
  };
  const metres = (all: Readings): DailySeries => {
    // Unpack once, not once a day.
    const { times, values } = unpackedReadings(all);
    return series("reading", "metres", (day) => medianOf(readingsInBand(spec, times, values, day)));
  };
  const charging = chargingTimeline(reference);
  return [
    ...(spec.reading.form === "distance" && readings !== undefined ? [metres(readings)] : []),
    lags(ON),
    lags(OFF),
    series("silence", "share", (day) => durations(restrict(account.account, day.from, day.to)).unknownMs / (day.to - day.from)),
    series("contradiction", "share", (day) => contradiction(account, charging, day)),
  ];
}

function readingsInBand(spec: SignalSpec, times: Float64Array, values: Float64Array, day: Interval): number[] {
  const found: number[] = [];
  if (spec.band === null) return found;
  const { nearMetres, farMetres, slackMetres, maximumMetres } = spec.band;
  for (let i = firstAtOrAfter(times, day.from); i < times.length && times[i]! < day.to; i += 1) {
    const metres = values[i]!;
    if (metres >= nearMetres - slackMetres && metres <= farMetres + slackMetres && metres < (maximumMetres ?? Infinity)) found.push(metres);
  }
  return found;
}

function contradiction(account: SignalAccount, charging: Timeline, day: Interval): number | null {
  const totals = overlap(restrict(account.account, day.from, day.to), restrict(charging, day.from, day.to));
  const [agreed, opposed] = [totals[OFF * 3 + OFF]! + totals[ON * 3 + ON]!, totals[OFF * 3 + ON]! + totals[ON * 3 + OFF]!];
  return agreed + opposed === 0 ? null : opposed / (agreed + opposed);
}
