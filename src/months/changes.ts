import type { Counts, SignalCounts } from "../findings/counts-schema.js";
import type { Change, Months } from "../findings/months-schema.js";
import { adjustPValues } from "../statistics/benjamini-hochberg.js";
import { medianOf } from "../statistics/median.js";
import { rateComparisonPValue } from "../statistics/rate-comparison.js";
import { twoSharesPValue } from "../statistics/two-shares.js";
import { changeText } from "./change-text.js";

/** What a comparison is about. */
export type Measure = Months["changes"][number]["measure"];

/** One comparison before the family is adjusted for. */
interface Compared {
  readonly signal: string;
  readonly measure: Measure;
  readonly unit: string;
  readonly before: number | null;
  readonly now: number | null;
  readonly pValue: number;
  /** The figure of each earlier period by itself. */
  readonly each: readonly (number | null)[];
}

type Dated = SignalCounts & { readonly days: number };

/** Rates are told per this many days. */
const SPAN_DAYS = 30;

/**
 * Compares every signal's figures of this period with those of all earlier periods together.
 *
 * - missed visits: Fisher's exact test of two shares;
 * - phantoms (per judged time), silences and restarts (per day of the period): the exact conditional test of two Poisson rates;
 * - known time: Fisher's test with one look a day, since a silence of ten hours is not ten independent facts (our own choice);
 * - lags: the median test, that is, Fisher's test of how many lags lie above the median of all: exact, whatever their distribution.
 *
 * A change is told when its p-value, adjusted over all comparisons made (Benjamini & Hochberg 1995), is below 1 − confidence
 * *and* the figure lies outside those of every single earlier period. The second condition is our own choice: silences and
 * phantoms come in clusters, so a Poisson test alone would call ordinary bad months a change.
 */
export function changesOf(now: Counts, earlier: readonly Counts[]): Change[] {
  const compared = now.signals.flatMap((signal) => {
    const before = earlier.flatMap((counts) => {
      const same = counts.signals.find((one) => one.signal === signal.signal && isSameSensor(one, signal));
      return same === undefined ? [] : [{ ...same, days: counts.period.days }];
    });
    return before.length === 0 ? [] : comparisons({ ...signal, days: now.period.days }, before);
  });
  const adjusted = adjustPValues(compared.map((one) => one.pValue));
  return compared
    .map((one, i) => told(one, adjusted[i]!, 1 - now.site.confidence))
    .toSorted((a, b) => Number(b.beyondChance) - Number(a.beyondChance) || a.adjustedPValue - b.adjustedPValue || a.pValue - b.pValue);
}

/** A signal that watches something else, or another sensor under its name, is not compared with what was there before. */
function isSameSensor(a: SignalCounts, b: SignalCounts): boolean {
  return a.subject === b.subject && a.kind === b.kind && a.model === b.model && a.firmware === b.firmware;
}

function comparisons(now: Dated, before: readonly Dated[]): Compared[] {
  const total = (read: (one: Dated) => number): number => before.reduce((sum, one) => sum + read(one), 0);
  const rate = (measure: Measure, count: (one: Dated) => number, exposure: (one: Dated) => number): Compared => ({
    signal: now.signal,
    measure,
    unit: "per 30 days",
    before: perSpan(total(count), total(exposure)),
    now: perSpan(count(now), exposure(now)),
    pValue: rateComparisonPValue(count(now), exposure(now), total(count), total(exposure)),
    each: before.map((one) => perSpan(count(one), exposure(one))),
  });
  const shares = (measure: Measure, count: (one: Dated) => number, trials: (one: Dated) => number): Compared => ({
    signal: now.signal,
    measure,
    unit: "share",
    before: ratio(total(count), total(trials)),
    now: ratio(count(now), trials(now)),
    pValue: twoSharesPValue(count(now), trials(now), total(count), total(trials)),
    each: before.map((one) => ratio(count(one), trials(one))),
  });
  return [
    shares("missed visits", (one) => one.missedVisits, (one) => one.visits),
    rate("phantoms", (one) => one.phantoms, (one) => one.judgedDays),
    rate("silences", (one) => one.silences, (one) => one.days),
    rate("restarts", (one) => one.restarts, (one) => one.days),
    shares("known time", (one) => Math.min(wholeDays(one), Math.round(one.knownDays)), wholeDays),
    lags("lag when arriving", now, before, (one) => one.lagsArriving),
    lags("lag when leaving", now, before, (one) => one.lagsLeaving),
  ].filter((one) => one.before !== null && one.now !== null);
}

/** Mood's median test, exact. */
function lags(measure: Measure, now: Dated, before: readonly Dated[], read: (one: Dated) => readonly number[]): Compared {
  const earlier = before.flatMap((one) => [...read(one)]);
  const middle = medianOf([...read(now), ...earlier]);
  const above = (values: readonly number[]): number => (middle === null ? 0 : values.filter((value) => value > middle).length);
  return {
    signal: now.signal,
    measure,
    unit: "seconds",
    before: medianOf(earlier),
    now: medianOf(read(now)),
    pValue: twoSharesPValue(above(read(now)), read(now).length, above(earlier), earlier.length),
    each: before.map((one) => medianOf(read(one))),
  };
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

function told({ each, ...one }: Compared, adjustedPValue: number, threshold: number): Change {
  const singles = each.filter((value) => value !== null);
  const now = one.now ?? 0;
  const outside = singles.length > 0 && (singles.every((value) => value < now) || singles.every((value) => value > now));
  const beyondChance = adjustedPValue < threshold && outside;
  const change = { ...one, adjustedPValue, beyondChance };
  return { ...change, text: beyondChance ? changeText(change) : null };
}
