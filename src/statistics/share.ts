import { betaQuantile } from "./distributions.js";
import { requireAmount, requireConfidence, requireCount } from "./requirements.js";
import type { Estimate } from "../result/estimate.js";

/**
 * The share `successes / trials` with its exact two-sided interval: half of `1 − confidence` in each tail. No value
 * without trials. Note for 0 of n: the two-sided upper limit is wider than the one-sided {@link shareUpperBound}; 0 of
 * 20 at 0.95 gives 0.1684 here and 0.1391 there.
 * Source: Clopper & Pearson (1934), in the beta-quantile form.
 * @throws RangeError when the counts are not whole, successes exceed trials, or the confidence is not between 0 and 1.
 */
export function shareEstimate(successes: number, trials: number, confidence: number): Estimate {
  requireCount(trials, "The number of trials");
  requireCount(successes, "The number of successes");
  requireAmounts(successes, trials, confidence);
  if (trials === 0) return { value: null, low: null, high: null, count: 0, hits: 0, exposure: 0, unit: "share", why: "nothing was counted" };
  const eachSide = (1 + confidence) / 2;
  return {
    value: successes / trials,
    low: shareLowerBound(successes, trials, eachSide),
    high: shareUpperBound(successes, trials, eachSide),
    count: trials,
    hits: successes,
    exposure: trials,
    unit: "share",
    why: null,
  };
}

/**
 * The exact one-sided upper bound of a share: the true share is at most this, with at least `confidence`.
 * 1 when there were no trials. Source: Clopper & Pearson (1934).
 * @throws RangeError as {@link shareEstimate}.
 */
export function shareUpperBound(successes: number, trials: number, confidence: number): number {
  requireAmounts(successes, trials, confidence);
  return successes === trials ? 1 : betaQuantile(confidence, successes + 1, trials - successes);
}

/**
 * The exact one-sided lower bound of a share: the true share is at least this, with at least `confidence`.
 * 0 when there were no trials. Source: Clopper & Pearson (1934).
 * @throws RangeError as {@link shareEstimate}.
 */
export function shareLowerBound(successes: number, trials: number, confidence: number): number {
  requireAmounts(successes, trials, confidence);
  return successes === 0 ? 0 : betaQuantile(1 - confidence, successes, trials - successes + 1);
}

/** Fractions are allowed, for clumped trials: the beta distribution takes them. */
function requireAmounts(successes: number, trials: number, confidence: number): void {
  requireConfidence(confidence);
  requireAmount(trials, "The number of trials");
  requireAmount(successes, "The number of successes");
  if (successes > trials) throw new RangeError(`There cannot be ${successes} successes in ${trials} trials.`);
}
