import { binomialCdf } from "./distributions.js";
import { rateUpperBound } from "./rate.js";
import { requireConfidence, requireCount } from "./requirements.js";

/**
 * The exposure at which the exact one-sided upper bound of a rate meets the limit, if the count stays what it is.
 * In the unit the limit counts by (years for a limit a year). With no event at 0.95 it is about 3 / limit.
 * Infinity when the limit is 0: no amount of watching proves that something never happens.
 * @throws RangeError when the count is not whole, the limit is negative or not a number, or the confidence is not between 0 and 1.
 */
export function exposureNeeded(count: number, limitRate: number, confidence: number): number {
  if (!(limitRate >= 0)) throw new RangeError(`A limit is 0 or more, not ${limitRate}.`);
  return rateUpperBound(count, 1, confidence) / limitRate;
}

/**
 * How many further trials without a failure until the exact one-sided upper bound of the failure share is at most the limit;
 * 0 when it is already. Null when no number will do (a limit of 0, or one too small to count to).
 * 59 faultless trials show at most 0.05 at 0.95.
 * @throws RangeError when the counts are not whole, failures exceed trials, the limit is outside 0 to 1, or the confidence is not between 0 and 1.
 */
export function trialsNeeded(failures: number, trials: number, limitShare: number, confidence: number): number | null {
  requireConfidence(confidence);
  requireCount(failures, "The number of failures");
  requireCount(trials, "The number of trials");
  if (failures > trials) throw new RangeError(`There cannot be ${failures} failures in ${trials} trials.`);
  if (!(limitShare >= 0 && limitShare <= 1)) throw new RangeError(`A limit lies in 0 to 1, not ${limitShare}.`);
  if (limitShare === 1) return 0;
  if (limitShare === 0) return null;
  // The upper bound is at most the limit exactly when so few failures would be that unlikely at the limit.
  const enough = (further: number): boolean => binomialCdf(failures, trials + further, limitShare) <= 1 - confidence;
  if (enough(0)) return 0;
  let tooFew = 0;
  let plenty = 1;
  while (!enough(plenty)) {
    tooFew = plenty;
    plenty *= 2;
    if (plenty > MOST_TRIALS) return null;
  }
  while (plenty - tooFew > 1) {
    const middle = Math.floor((tooFew + plenty) / 2);
    if (enough(middle)) plenty = middle;
    else tooFew = middle;
  }
  return plenty;
}

/** Beyond a billion trials nobody will wait, and the binomial distribution function is no longer trusted. */
const MOST_TRIALS = 1e9;
