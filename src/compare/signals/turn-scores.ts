import { sum } from "d3-array";
import type { JudgedTurns } from "../../truth/episodes/charging.js";
import type { TurnComparison } from "../../truth/episodes/compare-turns.js";
import { lagOfReferenceTurn } from "../../truth/episodes/compare-turns.js";
import type { FalseStretch } from "../../truth/episodes/false-stretches.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";
import { OFF } from "../../timeline/timeline.js";
import { because, ONLY_ONE_OTHER, RATE_SPAN_MS, RATE_UNIT } from "./units.js";
import type { Estimate } from "../../result/estimate.js";
import type { LagQuantiles, TransitionCounts } from "../../result/signals.js";

/**
 * Counts over both directions; `falseOnes` are the charged false stretches. The terms (missed, phantom insertions,
 * fragmentation, lag kept apart from error) follow the idea of Ward, Lukowicz & Gellersen (2011), applied to turns
 * instead of frames.
 */
export function transitionCounts(turns: readonly JudgedTurns[], falseOnes: readonly FalseStretch[]): TransitionCounts {
  const both = (count: (one: JudgedTurns) => number): number => sum(turns, count);
  return {
    reference: both(({ comparison }) => comparison.reference.length),
    matched: both(({ comparison }) => comparison.reference.filter((_, i) => isMatched(comparison, i)).length),
    judged: both(
      ({ comparison, charged }) => charged.filter((may, i) => may && (comparison.watched[i] === true || isMatched(comparison, i))).length,
    ),
    missed: both(missedCount),
    phantom: falseOnes.filter((one) => one.sort === "phantom").length,
    fragmented: falseOnes.filter((one) => one.sort === "bounce" || (one.said === OFF && one.takenBack)).length,
  };
}

/**
 * The share of visits that the signal did not report: of the reference's turns *on* (a visit's beginning) for which the
 * signal was known all through the window and the diary or several other witnesses vouch, those without a turn of the
 * signal. One trial per visit: a visit missed altogether also misses its turn off, and counting both would make two
 * independent mishaps of one. A turn off missed alone (the signal stuck on) shows in the transition counts and in the
 * agreement given off. Exact interval.
 */
export function missedVisitShare(on: JudgedTurns, confidence: number): Estimate {
  const { watched } = on.comparison;
  const visits = watched.filter((seen, i) => seen && on.charged[i] === true).length;
  const why = watched.some(Boolean)
    ? ONLY_ONE_OTHER
    : "no visit that is known without it came while the signal was known all around";
  return because(shareEstimate(missedCount(on), visits, confidence), why);
}

/**
 * Phantoms, said on and said off alike, per 30 days of time in which the signal was known and a phantom could have been
 * charged (`chargedMs`). `disputedMs` is the time in which only one other witness spoke: it explains a missing figure.
 * Exact interval.
 */
export function phantomRateOf(phantoms: number, chargedMs: number, disputedMs: number, confidence: number): Estimate {
  const why = disputedMs > 0 ? ONLY_ONE_OTHER : "the signal and what happened were never known at the same time";
  return because(rateEstimate(phantoms, chargedMs / RATE_SPAN_MS, confidence, RATE_UNIT), why);
}

/** Lags of the matched turns of one direction. A turn inside a bridged gap counts with the middle of the gap. */
export function lagQuantiles(comparison: TurnComparison, confidence: number): LagQuantiles {
  const seconds = comparison.reference
    .map((_, i) => lagOfReferenceTurn(comparison, i))
    .flatMap((lagMs) => (lagMs === null ? [] : [lagMs / 1000]));
  const quantile = (p: number): Estimate =>
    because(quantileEstimate(seconds, p, confidence, "seconds"), "no change of the signal was matched");
  return { median: quantile(0.5), p90: quantile(0.9), p95: quantile(0.95) };
}

function isMatched(comparison: TurnComparison, index: number): boolean {
  return comparison.matches.ofReference[index] !== -1;
}

function missedCount({ comparison, charged }: JudgedTurns): number {
  return comparison.watched.filter((watched, i) => watched && charged[i] === true && !isMatched(comparison, i)).length;
}
