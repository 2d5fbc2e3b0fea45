import { firstWhere } from "../ground/search.js";
import { binomialCdf } from "./distributions.js";
import { requireConfidence, requireCount } from "./requirements.js";

/** The 1-based ranks of two order statistics; null when there are too few values for that side. */
export interface QuantileRanks {
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * The ranks of two order statistics that enclose the `p`-quantile of a continuous distribution with at least
 * `confidence`: the closest ranks that leave at most half of `1 − confidence` in each tail.
 * Source: Conover (1971), confidence interval for a quantile; here with equal tails.
 * @throws RangeError when `count` is not whole, `p` or the confidence is not between 0 and 1.
 */
export function quantileRanks(count: number, p: number, confidence: number): QuantileRanks {
  requireConfidence(confidence);
  requireCount(count, "A number of values");
  if (!(p > 0 && p < 1)) throw new RangeError(`A quantile lies strictly between 0 and 1, not ${p}.`);
  const tail = (1 - confidence) / 2;
  // The value at index i (rank i + 1) lies above the quantile exactly when at most i values lie below it.
  const lower = firstWhere(count, (i) => binomialCdf(i, count, p) > tail);
  const upper = firstWhere(count, (i) => binomialCdf(count - i - 1, count, 1 - p) <= tail);
  return { lower: lower === 0 ? null : lower, upper: upper === count ? null : upper + 1 };
}
