import { DAYS_PER_MONTH } from "../../ground/units.js";
import type { ClockCounts, Counts, SignalCounts } from "../../result/counts-schema.js";
import type { Months } from "../../result/months-schema.js";
import type { Estimate } from "../../statistics/estimate.js";
import { medianOf } from "../../statistics/median.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";
import { clocksBarrier, rawOffset, sameClocks } from "./clocks.js";

type Row = Months["series"][number];
type Point = Row["points"][number];

const nothing = { value: null, low: null, high: null };

/**
 * Each signal of this period with its figures over all periods given, oldest first. A period without the signal has an
 * empty point.
 */
export function seriesOf(now: Counts, earlier: readonly Counts[]): Row[] {
  const { confidence } = now.site;
  return now.signals.map(({ signal }) => ({
    signal,
    points: [...earlier, now].map((counts) =>
      point(
        counts,
        counts.signals.find((one) => one.signal === signal),
        confidence,
      ),
    ),
  }));
}

function point({ period }: Counts, one: SignalCounts | undefined, confidence: number): Point {
  if (one === undefined)
    return {
      label: period.label,
      missedShare: nothing,
      phantomsPer30Days: nothing,
      silencesPer30Days: nothing,
      knownShare: null,
      lagArrivingSeconds: null,
      occupiedMetres: nothing,
      emptyMetres: nothing,
    };
  return {
    label: period.label,
    missedShare: ends(shareEstimate(one.missedVisits, one.visits, confidence)),
    phantomsPer30Days: ends(rateEstimate(one.phantoms, one.judgedDays / DAYS_PER_MONTH, confidence, "per 30 days")),
    silencesPer30Days: ends(rateEstimate(one.silences, period.days / DAYS_PER_MONTH, confidence, "per 30 days")),
    knownShare: period.days === 0 ? null : Math.min(1, one.knownDays / period.days),
    lagArrivingSeconds: medianOf(one.lagsArriving),
    occupiedMetres: ends(quantileEstimate(one.distances?.occupied ?? [], 0.5, confidence, "metres")),
    emptyMetres: ends(quantileEstimate(one.distances?.empty ?? [], 0.5, confidence, "metres")),
  };
}

/**
 * Every two sources of this period that watch a subject in common, with their clocks over all periods, without the site
 * file's corrections. A period in which stamps were read in another way has an empty point.
 */
export function clockSeriesOf(now: Counts, earlier: readonly Counts[]): Months["clocks"] {
  return (now.clocks ?? []).map((pair) => ({
    first: pair.first,
    second: pair.second,
    points: [...earlier, now].map((counts) => clockPoint(counts.period.label, pair, sameClocks(counts, pair))),
  }));
}

function clockPoint(label: string, pair: ClockCounts, was: ClockCounts | undefined): Months["clocks"][number]["points"][number] {
  if (was === undefined || clocksBarrier(pair, was) !== null) return { label, offsetSeconds: nothing, driftSecondsPerDay: nothing };
  const raw = (seconds: number | null): number | null => (seconds === null ? null : rawOffset(seconds, was));
  const { offset, drift } = was;
  return {
    label,
    offsetSeconds: { value: raw(offset.value), low: raw(offset.low), high: raw(offset.high) },
    driftSecondsPerDay: { value: drift.value, low: drift.low, high: drift.high },
  };
}

function ends({ value, low, high }: Estimate): Point["missedShare"] {
  return { value, low, high };
}
