import { chiSquareQuantile } from "./distributions.js";
import { requireAmount, requireConfidence } from "./requirements.js";

/** Events of unlike weight: the sum of their weights, that of the squares, and the largest weight that the next event may have. */
export interface WeightedCount {
  readonly total: number;
  readonly squares: number;
  readonly largestNext: number;
}

/**
 * The one-sided upper bound of the mean of a weighted sum of Poisson counts: the quantile of the gamma distribution
 * with shape Y²/V and scale V/Y, where Y and V hold the events seen and one more of the largest weight.
 * Equal weights give the exact bound of a count. Source: the form of Fay & Feuer 1997, Statistics in Medicine 16 (text
 * not seen).
 * @throws RangeError when a number is negative or not finite, or the confidence is not between 0 and 1.
 */
export function weightedUpperBound({ total, squares, largestNext }: WeightedCount, confidence: number): number {
  requireConfidence(confidence);
  requireAmount(total, "A weighted count");
  requireAmount(squares, "A sum of squares");
  requireAmount(largestNext, "The largest weight");
  const [mean, variance] = [total + largestNext, squares + largestNext ** 2];
  if (mean === 0) return 0;
  // A gamma quantile is half the scale times a chi-square quantile at twice the shape.
  return ((variance / mean) * chiSquareQuantile(confidence, (2 * mean * mean) / variance)) / 2;
}
