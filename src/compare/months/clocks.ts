import { DAYS_PER_MONTH } from "../../ground/units.js";
import { LEAST_OFFSET_SECONDS } from "../../truth/clocks/offsets.js";
import type { ClockCounts, Counts } from "../../result/counts.js";
import { pooledEstimate, twoEstimatesPValue } from "../../statistics/two-estimates.js";
import { isSameSensor, medians, type Compared } from "./compared.js";

/** No drift over a period of `days` is known better than this (seconds a day): stamps often come in whole seconds. */
const leastDriftError = (days: number): number => 1 / Math.max(1, days);

/**
 * How far the clocks of every two sources are apart, and by how much that grows a day: this period against earlier
 * ones.
 *
 * - Offset: the median test on the differences of paired turns. Corrections of the site file are taken out again first:
 *   a correction is no change, and a clock that jumped is one. One pair of signals stands for its sources, the one
 *   whose scarcer period has most differences: a clock moves all pairs alike, but each pair has lags of its own. A pair
 *   with a replaced sensor does not count. Our own choice.
 * - Drift: the slopes' difference against their intervals, taken as normal; earlier periods are weighted by their
 *   certainty. No error is taken to be below a second over the period.
 *
 * Reported only if also larger than what is worth a correction: five seconds, or five seconds in 30 days. Our own
 * choice.
 */
export function clockComparisons(now: Counts, earlier: readonly Counts[]): Compared[] {
  return (now.clocks ?? []).flatMap((pair) => {
    const before = earlier.flatMap((counts) => {
      const was = sameClocks(counts, pair);
      return was === undefined || clocksBarrier(pair, was) !== null ? [] : [{ was, counts }];
    });
    return before.length === 0 ? [] : [...offsets(pair, now, before), ...drifts(pair, now, before)];
  });
}

/** A pair of sources of an earlier period, with the counts it stands in. */
interface Before {
  readonly was: ClockCounts;
  readonly counts: Counts;
}

/**
 * The entry of the same two sources in another period's counts, turned round if the site file named them the other way
 * round.
 */
export function sameClocks(counts: Counts, { first, second }: ClockCounts): ClockCounts | undefined {
  const turned = counts.clocks?.find((one) => one.first === second && one.second === first);
  return (
    counts.clocks?.find((one) => one.first === first && one.second === second) ?? (turned === undefined ? undefined : turnedRound(turned))
  );
}

function turnedRound({ first, second, correctedSeconds, readAs, offset, drift, pairs }: ClockCounts): ClockCounts {
  const negative = (x: number | null): number | null => (x === null ? null : -x);
  const figure = ({ value, low, high, count }: ClockCounts["offset"]): ClockCounts["offset"] => ({
    value: negative(value),
    low: negative(high),
    high: negative(low),
    count,
  });
  return {
    first: second,
    second: first,
    correctedSeconds: [correctedSeconds[1], correctedSeconds[0]],
    readAs: [readAs[1], readAs[0]],
    offset: figure(offset),
    drift: figure(drift),
    pairs: pairs.map(({ signals, seconds }) => ({ signals: [signals[1], signals[0]], seconds: seconds.map((one) => -one).reverse() })),
  };
}

/**
 * Why the offsets of an earlier period cannot be compared with this one's, as the end of a sentence; null if they can.
 */
export function clocksBarrier(now: ClockCounts, was: ClockCounts): string | null {
  return now.readAs.every((way, i) => way === was.readAs[i])
    ? null
    : "the site file read their time stamps in another way then (format or time zone)";
}

/** How much later the second source's stamps are, with the site file's corrections taken out again. Seconds. */
export function rawOffset(seconds: number, { correctedSeconds: [first, second] }: ClockCounts): number {
  return seconds - second + first;
}

function offsets(pair: ClockCounts, now: Counts, before: readonly Before[]): Compared[] {
  const best = pair.pairs
    .map(({ signals, seconds }) => ({
      now: seconds.map((one) => rawOffset(one, pair)),
      before: before.map(({ was, counts }) =>
        signals.every((signal) => isUnchanged(signal, now, counts)) ? differences(was, signals) : [],
      ),
    }))
    .toSorted((a, b) => scarcer(b) - scarcer(a))[0];
  if (best === undefined) return [];
  return [
    medians(
      { signal: pair.second, against: pair.first, measure: "clock offset", unit: "seconds", least: LEAST_OFFSET_SECONDS },
      best.now,
      best.before,
    ),
  ];
}

function differences(was: ClockCounts, signals: readonly [string, string]): number[] {
  const same = was.pairs.find((one) => one.signals[0] === signals[0] && one.signals[1] === signals[1]);
  return (same?.seconds ?? []).map((one) => rawOffset(one, was));
}

function scarcer(speaking: { readonly now: readonly number[]; readonly before: readonly (readonly number[])[] }): number {
  return Math.min(speaking.now.length, speaking.before.flat().length);
}

function isUnchanged(signal: string, now: Counts, counts: Counts): boolean {
  const [one, was] = [now, counts].map((each) => each.signals.find((of) => of.signal === signal));
  return one !== undefined && was !== undefined && isSameSensor(one, was);
}

function drifts(pair: ClockCounts, now: Counts, before: readonly Before[]): Compared[] {
  const { confidence } = now.site;
  const longest = Math.max(...before.map(({ counts }) => counts.period.days));
  const pooled = pooledEstimate(
    before.map(({ was }) => was.drift),
    confidence,
    leastDriftError(longest),
  );
  const pValue = pooled === null ? null : twoEstimatesPValue(pair.drift, pooled, confidence, leastDriftError(now.period.days));
  if (pooled === null || pValue === null) return [];
  const each = before.map(({ was: { drift } }) => (drift.low === null || drift.high === null ? null : drift.value));
  return [
    {
      signal: pair.second,
      against: pair.first,
      measure: "clock drift",
      unit: "seconds per day",
      before: pooled.value,
      now: pair.drift.value,
      pValue,
      each,
      least: LEAST_OFFSET_SECONDS / DAYS_PER_MONTH,
    },
  ];
}
