import { binomialCdf } from "./distributions.js";
import { requireConfidence, requireCount } from "./requirements.js";

/** The 1-based ranks of two order statistics; null where there are too few values for that side. */
export interface QuantileRanks {
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * The ranks between whose order statistics the `p`-quantile of a continuous distribution lies with at least `confidence`:
 * the closest ranks that leave at most half of `1 − confidence` in each tail.
 * Source: Conover (1971), confidence interval for a quantile; here with equal tails.
 * @throws RangeError when `count` is not whole, `p` or the confidence is not between 0 and 1.
 */
export function quantileRanks(count: number, p: number, confidence: number): QuantileRanks {
  requireConfidence(confidence);
  requireCount(count, "A number of values");
  requireInside(p);
  if (count === 0) return { lower: null, upper: null };
  const tail = (1 - confidence) / 2;
  // X(r) lies above the quantile exactly when fewer than r values lie below it.
  const tooHigh = firstRank(count, (rank) => binomialCdf(rank - 1, count, p) > tail);
  const highEnough = firstRank(count, (rank) => binomialCdf(count - rank, count, 1 - p) <= tail);
  return { lower: tooHigh === 1 ? null : tooHigh - 1, upper: highEnough > count ? null : highEnough };
}

/**
 * The probability that the `p`-quantile of a continuous distribution lies between the order statistics of two 1-based ranks:
 * P(lower ≤ X ≤ upper − 1) for X binomial.
 * @throws RangeError when the ranks are not whole or not 1 ≤ lower ≤ upper ≤ count, or `p` is not between 0 and 1.
 */
export function rankCoverage(count: number, p: number, lower: number, upper: number): number {
  requireCount(count, "A number of values");
  requireCount(lower, "A rank");
  requireCount(upper, "A rank");
  requireInside(p);
  if (!(lower >= 1 && lower <= upper && upper <= count)) throw new RangeError(`Ranks must be 1 ≤ lower ≤ upper ≤ ${count}, not ${lower} and ${upper}.`);
  return binomialCdf(upper - 1, count, p) - binomialCdf(lower - 1, count, p);
}

/** The first rank from 1 on at which a condition that stays true holds; count + 1 when it never does. */
function firstRank(count: number, holds: (rank: number) => boolean): number {
  let low = 1;
  let high = count + 1;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

function requireInside(p: number): void {
  if (!(p > 0 && p < 1)) throw new RangeError(`A quantile lies strictly between 0 and 1, not ${p}.`);
}
