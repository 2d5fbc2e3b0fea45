import { sum } from "d3-array";
import { DAYS_PER_MONTH } from "../../ground/units.js";
import type { Counts, SignalCounts } from "../../result/counts.js";
import type { Change } from "../../result/months.js";
import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { rateComparisonPValue } from "../../statistics/rate-comparison.js";
import { twoSharesPValue } from "../../statistics/two-shares.js";
import { basisBarrier, nameThen } from "./basis.js";
import { clockComparisons } from "./clocks.js";
import { type Compared, isSameSensor, type Measure, medians } from "./compared.js";
import { leastThatMatters } from "./least.js";
import { readingComparisons } from "./readings.js";

type Dated = SignalCounts & { readonly days: number };

/**
 * Compares every signal's figures of this period with those of all earlier periods together.
 *
 * - missed visits: Fisher's exact test of two shares;
 * - phantoms (per judged time), silences and restarts (per day of the period): the exact conditional test of two
 *   Poisson rates;
 * - known time: Fisher's test with one look a day, since a silence of ten hours is not ten independent facts (our own
 *   choice);
 * - lags: the median test, that is, Fisher's test of how many lags lie above the median of all: exact, whatever their
 *   distribution;
 * - readings of distance signals, by the same test: {@link readingComparisons}; clock offsets and drifts:
 *   {@link clockComparisons}.
 *
 * A change is reported when its p-value, adjusted over all comparisons made (Benjamini & Hochberg 1995), is below 1 −
 * confidence *and* the figure lies outside those of every single earlier period *and* it differs by more than is harmless at
 * this site ({@link leastThatMatters}). The second condition is our own choice: silences and phantoms come in clusters, so a Poisson test
 * alone would call ordinary bad months a change. What the truth about a signal came from another sort of witness for is not
 * compared ({@link basisBarrier}).
 */
export function changesOf(now: Counts, earlier: readonly Counts[]): Change[] {
  const ofSignals = now.signals.flatMap((signal) => {
    const before = earlier.flatMap((counts) => {
      const name = nameThen(signal.signal, now, counts);
      const same = counts.signals.find((one) => one.signal === name && isSameSensor(one, signal) && basisBarrier(signal.signal, name, now, counts) === null);
      return same === undefined ? [] : [{ ...same, days: counts.period.days }];
    });
    return before.length === 0 ? [] : [...comparisons({ ...signal, days: now.period.days }, before, now), ...readingComparisons(signal, before)];
  });
  const compared = [...ofSignals, ...clockComparisons(now, earlier)].filter((one) => one.before !== null && one.now !== null);
  const adjusted = adjustPValues(compared.map((one) => one.pValue));
  return compared
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- every comparison has its adjusted p
    .map((one, i) => told(one, adjusted[i]!, 1 - now.site.confidence))
    .toSorted((a, b) => Number(b.beyondChance) - Number(a.beyondChance) || a.adjustedPValue - b.adjustedPValue || a.pValue - b.pValue);
}

function comparisons(now: Dated, before: readonly Dated[], counts: Counts): Compared[] {
  // Older counts charged both of two signals that differ: their faults are not compared with newer ones.
  const charged = before.filter((one) => (one.disagreements === undefined) === (now.disagreements === undefined));
  type Of = (one: Dated) => number;
  const leastOf = (measure: Measure): number => leastThatMatters(measure, now, counts);
  const comparedBy = (
    unit: string,
    figure: (count: number, among: number) => number | null,
    test: typeof rateComparisonPValue,
  ) => (measure: Measure, count: Of, among: Of, list = before): Compared => ({
    signal: now.signal,
    against: null,
    measure,
    unit,
    before: figure(sum(list, count), sum(list, among)),
    now: figure(count(now), among(now)),
    pValue: test(count(now), among(now), sum(list, count), sum(list, among)),
    each: list.map((one) => figure(count(one), among(one))),
    least: leastOf(measure),
  });
  const rate = comparedBy("per 30 days", perSpan, rateComparisonPValue);
  const shares = comparedBy("share", ratio, twoSharesPValue);
  const lags = (measure: Measure, read: (one: Dated) => readonly number[]): Compared =>
    medians({ signal: now.signal, against: null, measure, unit: "seconds", least: leastOf(measure) }, read(now), before.map(read));
  return [
    shares(
      "missed visits",
      (one) => one.missedVisits,
      (one) => one.visits,
      charged,
    ),
    rate(
      "phantoms",
      (one) => one.phantoms,
      (one) => one.judgedDays,
      charged,
    ),
    rate(
      "silences",
      (one) => one.silences,
      (one) => one.days,
    ),
    rate(
      "restarts",
      (one) => one.restarts,
      (one) => one.days,
    ),
    shares("known time", (one) => Math.min(wholeDays(one), Math.round(one.knownDays)), wholeDays),
    lags("lag when arriving", (one) => one.lagsArriving),
    lags("lag when leaving", (one) => one.lagsLeaving),
  ];
}

function wholeDays(one: Dated): number {
  return Math.round(one.days);
}

function perSpan(count: number, days: number): number | null {
  return days > 0 ? (count / days) * DAYS_PER_MONTH : null;
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

const nouns: Readonly<Record<Change["measure"], string>> = {
  "missed visits": "missed visits",
  phantoms: "false reports",
  silences: "silences",
  restarts: "restarts",
  "known time": "known time",
  "lag when arriving": "the usual lag when somebody or something arrives",
  "lag when leaving": "the usual lag when somebody or something leaves",
  "reading when occupied": "the usual reading when occupied",
  "reading when empty": "the usual reading when empty",
  "clock offset": "the clock offset (without the corrections in the site file)",
  "clock drift": "the clock drift",
};

/** A change in a sentence: `bay-1-wall: missed visits rose from 1.1 % to 9.8 %, more than by chance.` */
export function changeText({ signal, against, measure, unit, before, now }: Omit<Change, "text">): string {
  const direction = (now ?? 0) > (before ?? 0) ? "rose" : "fell";
  const who = against === null ? signal : `${signal} against ${against}`;
  return `${who}: ${nouns[measure]} ${direction} from ${amount(before ?? 0, unit)} to ${amount(now ?? 0, unit)}, more than by chance.`;
}

const written: Readonly<Record<string, string>> = { seconds: "s", "seconds per day": "s a day", "per 30 days": "in 30 days" };

function amount(value: number, unit: string): string {
  if (unit === "share") return `${Number((value * 100).toPrecision(3))} %`;
  if (unit === "metres") return `${Number((value * 100).toFixed(1))} cm`;
  return `${Number(value.toPrecision(3))} ${written[unit] ?? unit}`;
}
