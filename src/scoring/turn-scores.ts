import type { TurnComparison } from "../episodes/compare-turns.js";
import { lagOfReferenceTurn } from "../episodes/compare-turns.js";
import type { FalseStretch } from "../episodes/false-stretches.js";
import type { Estimate } from "../statistics/estimate.js";
import { quantileEstimate } from "../statistics/quantile.js";
import { rateEstimate } from "../statistics/rate.js";
import { shareEstimate } from "../statistics/share.js";
import { OFF } from "../timeline/timeline.js";
import type { LagQuantiles, TransitionCounts } from "./score.js";
import { because, RATE_SPAN_MS, RATE_UNIT } from "./units.js";

/**
 * Counts over both directions. The vocabulary (missed, phantom insertions, fragmentation, lag kept apart from error) follows
 * the idea of Ward, Lukowicz & Gellersen (2011), applied to turns instead of frames.
 */
export function transitionCounts(comparisons: readonly TurnComparison[], falseOnes: readonly FalseStretch[]): TransitionCounts {
  const sum = (count: (comparison: TurnComparison) => number): number => comparisons.reduce((total, one) => total + count(one), 0);
  return {
    reference: sum((one) => one.reference.length),
    matched: sum((one) => one.reference.filter((_, i) => isMatched(one, i)).length),
    missed: sum(missedCount),
    phantom: falseOnes.filter((one) => one.sort === "phantom").length,
    fragmented: falseOnes.filter((one) => one.sort === "bounce" || (one.said === OFF && one.takenBack)).length,
  };
}

/**
 * The share of visits that the signal did not report: of the reference's turns *on* (a visit's beginning) around which the
 * signal was known all through the window, those without a turn of the signal. One trial a visit: a visit missed altogether
 * also misses its turn off, and counting both would pass one mishap off as two independent ones. A turn off missed alone
 * (the signal stuck on) stands in the transition counts and in the agreement given off. Exact interval.
 */
export function missedVisitShare(on: TurnComparison, confidence: number): Estimate {
  const visits = on.watched.filter(Boolean).length;
  return because(shareEstimate(missedCount(on), visits, confidence), "no visit that a reference without it knows of fell where the signal was known all around");
}

/** Phantoms, said on and said off alike, per 30 days of time in which reference and signal are both known. Exact interval. */
export function phantomRateOf(phantoms: number, jointMs: number, confidence: number): Estimate {
  return because(rateEstimate(phantoms, jointMs / RATE_SPAN_MS, confidence, RATE_UNIT), "the signal and a reference without it were never known at the same time");
}

/** Lags of the matched turns of one direction. A turn inside a bridged gap counts with the middle of the gap. */
export function lagQuantiles(comparison: TurnComparison, confidence: number): LagQuantiles {
  const seconds = comparison.reference.map((_, i) => lagOfReferenceTurn(comparison, i)).flatMap((lagMs) => (lagMs === null ? [] : [lagMs / 1000]));
  const quantile = (p: number): Estimate => because(quantileEstimate(seconds, p, confidence, "seconds"), "no turn of the signal was matched");
  return { median: quantile(0.5), p90: quantile(0.9), p95: quantile(0.95) };
}

function isMatched(comparison: TurnComparison, index: number): boolean {
  return comparison.matches.ofReference[index] !== -1;
}

function missedCount(comparison: TurnComparison): number {
  return comparison.watched.filter((watched, i) => watched && !isMatched(comparison, i)).length;
}
