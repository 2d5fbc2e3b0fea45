/**
 * Two independent Poisson counts bounded together, at every look. Each mixture of likelihood ratios has the expected
 * value 1 at the true mean, and so has the product of two independent ones: it rarely ever exceeds 1/α (Ville 1939;
 * text not seen). The mixture is fixed here, before any data is seen.
 */
import { maxIndex, range } from "d3-array";
import { logSum } from "./log-sum.js";
import { requireAmount, requireConfidence } from "./requirements.js";

/** True means as multiples of the mean under test, and their weights. Our own choice. */
const RATIOS = [0.05, 0.25, 0.5, 0.7, 0.8, 0.9, 1] as const;
const LOG_WEIGHTS = [0.25, 0.1, 0.1, 0.1, 0.1, 0.1, 0.25].map(Math.log);
const LOG_RATIOS = RATIOS.map(Math.log);
/** It takes five to ten steps; this only keeps it from going on for ever. */
const MOST_STEPS = 60;

/** Points tried over one mean, from the smallest that matters to the largest that the data allow; then refined. */
const GRID_POINTS = 200;
const SMALLEST_SHARE = 1e-6;

/** ln Σ w r^N e^((1 − r) μ): how much N events speak against a mean of μ or more. Rises with μ. */
export function meanEvidence(mean: number, count: number): number {
  return logSum(logTerms(mean, count));
}

function logTerms(mean: number, count: number): number[] {
  return RATIOS.map((ratio, i) => (LOG_WEIGHTS[i] ?? 0) + count * (LOG_RATIOS[i] ?? 0) + (1 - ratio) * mean);
}

/** Two means that the data still allow. */
export interface Means {
  readonly first: number;
  readonly second: number;
}

/**
 * The largest value of `harm` over all pairs of means that the two counts still allow at every look. `harm` must rise
 * with both means. Counts may be fractions.
 * @throws RangeError when a count is negative or not finite, or the confidence is not between 0 and 1.
 */
export function worstOfMeans(counts: Means, confidence: number, harm: (means: Means) => number): number {
  requireConfidence(confidence);
  requireAmount(counts.first, "A count of events");
  requireAmount(counts.second, "A count of events");
  const bar = -Math.log(1 - confidence);
  // With the other mean near 0 its evidence is at its weakest, and this mean can be largest.
  const largest = meanAt(bar - meanEvidence(0, counts.second), counts.first);
  const harmAt = (point: number): number => {
    const first = largest * SMALLEST_SHARE ** (1 - point / GRID_POINTS);
    return harm({ first, second: meanAt(bar - meanEvidence(first, counts.first), counts.second) });
  };
  const worst = maxIndex(range(GRID_POINTS + 1), harmAt);
  return refined(harmAt, Math.max(0, worst - 1), Math.min(GRID_POINTS, worst + 1));
}

/** The largest value between two points, where it rises to one peak and falls again. */
function refined(valueAt: (point: number) => number, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 40; i += 1) {
    const [left, right] = [low + (high - low) / 3, high - (high - low) / 3];
    if (valueAt(left) < valueAt(right)) low = left;
    else high = right;
  }
  return Math.max(valueAt(low), valueAt(from), valueAt(to));
}

/** The largest product of two means at every look: 139.15 for 0 and 24 events at 0.95. */
export function largestProduct(counts: Means, confidence: number): number {
  return worstOfMeans(counts, confidence, ({ first, second }) => first * second);
}

/**
 * The mean at which the evidence of `count` reaches `bar`; 0 when it is beyond it already. Newton's method from above:
 * the evidence rises with the mean ever more steeply, so that no step goes too far.
 */
function meanAt(bar: number, count: number): number {
  if (meanEvidence(0, count) >= bar) return 0;
  // Each term alone reaches the bar no sooner than their sum.
  let mean = Math.min(...RATIOS.map((ratio, i) => (ratio === 1 ? Infinity : (bar - (LOG_WEIGHTS[i] ?? 0) - count * (LOG_RATIOS[i] ?? 0)) / (1 - ratio))));
  for (let step = mean, steps = 0; step > mean * 1e-14 && steps < MOST_STEPS; steps += 1) {
    const terms = logTerms(mean, count);
    const evidence = logSum(terms);
    const slope = RATIOS.reduce<number>((sum, ratio, i) => sum + Math.exp((terms[i] ?? 0) - evidence) * (1 - ratio), 0);
    step = (evidence - bar) / slope;
    mean -= step;
  }
  return Math.max(0, mean);
}
