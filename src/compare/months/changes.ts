import type { Counts, SignalCounts } from "../../result/counts-schema.js";
import type { Change } from "../../result/months-schema.js";
import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { rateComparisonPValue } from "../../statistics/rate-comparison.js";
import { twoSharesPValue } from "../../statistics/two-shares.js";
import { changeText } from "./change-text.js";
import { clockComparisons } from "./clocks.js";
import { isSameSensor, medians, type Compared, type Measure } from "./compared.js";
import { readingComparisons } from "./readings.js";

type Dated = SignalCounts & { readonly days: number };

/** Rates are told per this many days. */
const SPAN_DAYS = 30;

/**
 * Compares every signal's figures of this period with those of all earlier periods together.
 *
 * - missed visits: Fisher's exact test of two shares;
 * - phantoms (per judged time), silences and restarts (per day of the period): the exact conditional test of two Poisson rates;
 * - known time: Fisher's test with one look a day, since a silence of ten hours is not ten independent facts (our own choice);
 * - lags: the median test, that is, Fisher's test of how many lags lie above the median of all: exact, whatever their distribution;
 * - readings of distance signals, by the same test: {@link readingComparisons}; clock offsets and drifts: {@link clockComparisons}.
 *
 * A change is told when its p-value, adjusted over all comparisons made (Benjamini & Hochberg 1995), is below 1 − confidence
 * *and* the figure lies outside those of every single earlier period (and, of readings and clocks, differs by more than is harmless). The second condition is our own choice: silences and
 * phantoms come in clusters, so a Poisson test alone would call ordinary bad months a change.
 */
export function changesOf(now: Counts, earlier: readonly Counts[]): Change[] {
  const ofSignals = now.signals.flatMap((signal) => {
    const before = earlier.flatMap((counts) => {
      const same = counts.signals.find((one) => one.signal === signal.signal && isSameSensor(one, signal));
      return same === undefined ? [] : [{ ...same, days: counts.period.days }];
    });
    return before.length === 0 ? [] : [...comparisons({ ...signal, days: now.period.days }, before), ...readingComparisons(signal, before)];
  });
  const compared = [...ofSignals, ...clockComparisons(now, earlier)].filter((one) => one.before !== null && one.now !== null);
  const adjusted = adjustPValues(compared.map((one) => one.pValue));
  return compared
    .map((one, i) => told(one, adjusted[i]!, 1 - now.site.confidence))
    .toSorted((a, b) => Number(b.beyondChance) - Number(a.beyondChance) || a.adjustedPValue - b.adjustedPValue || a.pValue - b.pValue);
}

function comparisons(now: Dated, before: readonly Dated[]): Compared[] {
  // Older counts charged both of two signals that differ: such faults are not set beside those of newer ones.
  const charged = before.filter((one) => (one.disagreements === undefined) === (now.disagreements === undefined));
  const sumOf = (list: readonly Dated[], read: (one: Dated) => number): number => list.reduce((sum, one) => sum + read(one), 0);
  const rate = (measure: Measure, count: (one: Dated) => number, exposure: (one: Dated) => number, list = before): Compared => ({
    signal: now.signal,
    against: null,
    measure,
    unit: "per 30 days",
    before: perSpan(sumOf(list, count), sumOf(list, exposure)),
    now: perSpan(count(now), exposure(now)),
    pValue: rateComparisonPValue(count(now), exposure(now), sumOf(list, count), sumOf(list, exposure)),
    each: list.map((one) => perSpan(count(one), exposure(one))),
    least: 0,
  });
  const shares = (measure: Measure, count: (one: Dated) => number, trials: (one: Dated) => number, list = before): Compared => ({
    signal: now.signal,
    against: null,
    measure,
    unit: "share",
    before: ratio(sumOf(list, count), sumOf(list, trials)),
    now: ratio(count(now), trials(now)),
    pValue: twoSharesPValue(count(now), trials(now), sumOf(list, count), sumOf(list, trials)),
    each: list.map((one) => ratio(count(one), trials(one))),
    least: 0,
  });
  const lags = (measure: Measure, read: (one: Dated) => readonly number[]): Compared => medians({ signal: now.signal, against: null, measure, unit: "seconds", least: 0 }, read(now), before.map(read));
  return [
    shares("missed visits", (one) => one.missedVisits, (one) => one.visits, charged),
    rate("phantoms", (one) => one.phantoms, (one) => one.judgedDays, charged),
    rate("silences", (one) => one.silences, (one) => one.days),
    rate("restarts", (one) => one.restarts, (one) => one.days),
    shares("known time", (one) => Math.min(wholeDays(one), Math.round(one.knownDays)), wholeDays),
    lags("lag when arriving", (one) => one.lagsArriving),
    lags("lag when leaving", (one) => one.lagsLeaving),
  ];
}

function wholeDays(one: Dated): number {
  return Math.round(one.days);
}

function perSpan(count: number, days: number): number | null {
  return days > 0 ? (count / days) * SPAN_DAYS : null;
}

function ratio(count: number, trials: number): number | null {
  return trials > 0 ? count / trials : null;
}

function told({ each, least, ...one }: Compared, adjustedPValue: number, threshold: number): Change {
  const singles = each.filter((value) => value !== null);
  const now = one.now ?? 0;
  const outside = singles.length > 0 && (singles.every((value) => value < now) || singles.every((value) => value > now));
  const matters = Math.abs(now - (one.before ?? 0)) > least;
  const beyondChance = adjustedPValue < threshold && outside && matters;
  const change = { ...one, adjustedPValue, beyondChance };
  return { ...change, text: beyondChance ? changeText(change) : null };
}
