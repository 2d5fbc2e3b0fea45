import { rateUpperBound } from "./rate.js";

/**
 * Control limits of a count with the given expectation: the smallest counts whose cumulative Poisson probability reaches
 * (1 − confidence)/2 and (1 + confidence)/2. A count outside [low, high] is rarer than that on its side.
 * Exact: P(count ≤ k) ≥ q just when the expectation is at most the one-sided upper bound of k at confidence 1 − q (Garwood 1936).
 * @throws RangeError when the expectation is negative or not finite, or the confidence is not between 0 and 1.
 */
export function poissonLimits(expected: number, confidence: number): { low: number; high: number } {
  if (!(Number.isFinite(expected) && expected >= 0)) throw new RangeError(`An expected count must be a finite number of 0 or more, not ${expected}.`);
  const outside = (1 - confidence) / 2;
  return { low: poissonQuantile(outside, expected), high: poissonQuantile(1 - outside, expected) };
}

/** The smallest k with P(count ≤ k) ≥ q, by doubling and halving. */
function poissonQuantile(q: number, expected: number): number {
  const reaches = (k: number): boolean => expected <= rateUpperBound(k, 1, 1 - q);
  if (reaches(0)) return 0;
  let below = 0;
  let reached = 1;
  while (!reaches(reached)) {
    below = reached;
    reached *= 2;
  }
  while (reached - below > 1) {
    const middle = (below + reached) >>> 1;
    if (reaches(middle)) reached = middle;
    else below = middle;
  }
  return reached;
}
