import { chiSquareQuantile } from "./distributions.js";
import { requireAmount, requireConfidence, requireCount } from "./requirements.js";
import type { Estimate } from "../result/estimate.js";

/**
 * The rate `count / exposure` of a Poisson count with its exact two-sided interval: half of `1 − confidence` in each
 * tail. `exposure` is in the time of `unit`: years for "per year". No value without exposure.
 * Source: Garwood (1936): χ²(α/2; 2k)/2 to χ²(1 − α/2; 2k + 2)/2.
 * @throws RangeError when the count is not whole, the exposure is negative or not finite, or the confidence is not
 * between 0 and 1.
 */
export function rateEstimate(count: number, exposure: number, confidence: number, unit: string): Estimate {
  requireRate(count, exposure, confidence);
  if (exposure === 0) return { value: null, low: null, high: null, count, hits: count, exposure, unit, why: "no time was observed" };
  const eachSide = (1 + confidence) / 2;
  return {
    value: count / exposure,
    low: rateLowerBound(count, exposure, eachSide),
    high: rateUpperBound(count, exposure, eachSide),
    count,
    hits: count,
    exposure,
    unit,
    why: null,
  };
}

/**
 * The exact one-sided upper bound of a rate: the true rate is at most this, with `confidence` or more.
 * Infinity when nothing was observed. For a count of 0 at 0.95 it is 2.9957 / exposure, the "rule of three".
 * @throws RangeError as {@link rateEstimate}.
 */
export function rateUpperBound(count: number, exposure: number, confidence: number): number {
  requireAmounts(count, exposure, confidence);
  return exposure === 0 ? Infinity : chiSquareQuantile(confidence, 2 * count + 2) / 2 / exposure;
}

/**
 * The exact one-sided lower bound of a rate: the true rate is at least this, with `confidence` or more.
 * 0 when nothing was observed.
 * @throws RangeError as {@link rateEstimate}.
 */
export function rateLowerBound(count: number, exposure: number, confidence: number): number {
  requireAmounts(count, exposure, confidence);
  return count === 0 || exposure === 0 ? 0 : chiSquareQuantile(1 - confidence, 2 * count) / 2 / exposure;
}

function requireRate(count: number, exposure: number, confidence: number): void {
  requireCount(count, "A count of events");
  requireAmounts(count, exposure, confidence);
}

/** Fractions are allowed, for clumped events: the χ² distribution takes them. */
function requireAmounts(count: number, exposure: number, confidence: number): void {
  requireConfidence(confidence);
  requireAmount(count, "A count of events");
  requireAmount(exposure, "The exposure");
}
