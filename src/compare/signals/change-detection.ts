import type { Readings } from "../../intake/readings.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { Site } from "../../site/site.js";
import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { individualsChart } from "../../statistics/control-chart.js";
import { medianOf } from "../../statistics/median.js";
import { rankShift } from "../../statistics/rank-shift.js";
import { dailySeries, localDays, type DailySeries } from "./daily-series.js";
import type { Interval } from "../../ground/intervals.js";
import type { SignalChange } from "../../result/witnesses.js";

/**
 * With fewer days than this nothing is tested. Our own choice: two weeks, so that each weekday stands on both sides.
 */
const FEWEST_DAYS = 14;

/**
 * Smaller shifts are listed, but are no alarm, however certain. Our own choices: a centimetre is a tenth of a usual
 * margin of a band; five seconds are a quarter of a usual settling time; one per cent of a day is a quarter of an hour.
 */
const LEAST_CHANGE: Readonly<Record<DailySeries["unit"], number>> = { metres: 0.01, seconds: 5, share: 0.01 };

/**
 * Every signal's series, in the site's order, each tested by a control chart and for a shift. The chart
 * ({@link individualsChart}: three-sigma limits and runs of eight) finds that days are not alike, but alarms by mistake
 * about once in 153 days, and a month has many signals; so a change is reported only if the shift found in the ranks
 * ({@link rankShift}) also has an adjusted p-value below 1 − confidence: of what is reported, at most that share is
 * expected to be chance. Readings may shift either way; lag, silence and contradiction only count when they rise. A
 * signal without an account has no series.
 */
export function detectChanges(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  readings: ReadonlyMap<string, Readings>,
  book: ReferenceBook,
  period: Interval,
  lagBook: ReferenceBook = book,
): SignalChange[] {
  const days = localDays(period, site.timeZone);
  const found = site.signals.flatMap((spec) => {
    const account = accounts.get(spec.id);
    if (account === undefined) return [];
    const judges = { reference: book(spec.subject, [spec.id]), behind: lagBook(spec.subject, [spec.id]) };
    const series = dailySeries(site, spec, account, readings.get(spec.id), judges, days);
    return series.map((one) => judged(one, spec.id, spec.subject));
  });
  const tested = found.flatMap((one) => (one.pValue === null ? [] : [{ one, pValue: one.pValue }]));
  const adjusted = adjustPValues(tested.map(({ pValue }) => pValue));
  const byChange = new Map(tested.map(({ one }, i) => [one, adjusted[i]]));
  return found.map((one) => {
    const adjustedPValue = byChange.get(one) ?? null;
    const alarms = one.chart !== null && one.chart.outside + one.chart.runs > 0;
    const matters = one.before !== null && one.after !== null && Math.abs(one.after - one.before) >= LEAST_CHANGE[one.unit];
    return { ...one, adjustedPValue, changed: alarms && matters && adjustedPValue !== null && adjustedPValue < 1 - site.confidence };
  });
}

function judged(series: DailySeries, signal: string, subject: string): SignalChange {
  const values = series.points.map((point) => point.value);
  const nothing = {
    ...series,
    points: series.points.map(({ day, value }) => [day, value] as const),
    signal,
    subject,
    changed: false,
    since: null,
    before: null,
    after: null,
    chart: null,
    pValue: null,
    adjustedPValue: null,
  };
  const limits = individualsChart(values);
  if (values.length < FEWEST_DAYS || limits === null) return { ...nothing, why: `too few days with a value (${values.length}; ${FEWEST_DAYS} are needed)` };
  const { centre, low, high, outside, runs } = limits;
  const chart = { centre, low, high, outside: outside.length, runs: runs.length };
  const shift = rankShift(values, series.what === "reading" ? "either" : "up");
  // No rise at all: no surprise, but it was tested and counts among the tests.
  if (shift === null) return { ...nothing, chart, pValue: 1, why: null };
  return {
    ...nothing,
    chart,
    pValue: shift.pValue,
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the shift is at one of the values
    since: series.points[shift.at]!.day,
    before: medianOf(values.slice(0, shift.at)),
    after: medianOf(values.slice(shift.at)),
    why: null,
  };
}
