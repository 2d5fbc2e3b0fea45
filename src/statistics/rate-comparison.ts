import { binomialCdf } from "./distributions.js";
import { requireAmount, requireCount } from "./requirements.js";

/**
 * The two-sided p-value for "both Poisson rates are equal". Given the sum of the counts, the first count is binomial
 * with the first's share of the exposure. The smaller tail is doubled, not summed by probability, to agree with the
 * equal-tailed intervals used elsewhere. 1 when nothing happened or one side was not observed: no evidence of a
 * difference.
 * Source: the exact conditional test of Przyborowski & Wilenski (1940).
 * @throws RangeError when a count is not whole, an exposure is negative or not finite, or something happened in no
 * exposure.
 */
export function rateComparisonPValue(countA: number, exposureA: number, countB: number, exposureB: number): number {
  requireCount(countA, "A count of events");
  requireCount(countB, "A count of events");
  requireAmount(exposureA, "The exposure");
  requireAmount(exposureB, "The exposure");
  if ((exposureA === 0 && countA > 0) || (exposureB === 0 && countB > 0)) throw new RangeError("Nothing can have happened where nothing was observed.");
  const total = countA + countB;
  if (total === 0 || exposureA === 0 || exposureB === 0) return 1;
  const shareA = exposureA / (exposureA + exposureB);
  const atMost = binomialCdf(countA, total, shareA);
  // The upper tail, counted from the other side: 1 − P would round small values away.
  const atLeast = binomialCdf(countB, total, exposureB / (exposureA + exposureB));
  return Math.min(1, 2 * Math.min(atMost, atLeast));
}
