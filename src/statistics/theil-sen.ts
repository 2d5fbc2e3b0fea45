/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of points; the ranks of the interval run from 1 to the number of slopes */
import { normalDeviate } from "./distributions.js";
import { medianOfSorted } from "./median.js";
import { requireConfidence } from "./requirements.js";
import type { Estimate } from "../result/estimate.js";

/** More points are thinned evenly to at most this many: the number of slopes grows with the square. */
const MOST_POINTS = 600;

/**
 * The median of the slopes between all pairs of points with different x, and an interval between two of the sorted
 * slopes. Their ranks are those at which Kendall's statistic stops being exceptional (normal approximation; ties in x
 * reduce only the number of slopes). Robust: up to 29 % of outliers do not carry the median away. No interval with too
 * few points. `count` is the number of points used.
 * Source: Theil (1950); Sen (1968) for the interval.
 * @throws RangeError when the lists differ in length, a number is not finite, or the confidence is not between 0 and 1.
 */
export function slopeEstimate(xs: readonly number[], ys: readonly number[], confidence: number, unit: string): Estimate {
  requireConfidence(confidence);
  if (xs.length !== ys.length) throw new RangeError(`A slope needs as many y as x, not ${ys.length} and ${xs.length}.`);
  if (!xs.every(Number.isFinite) || !ys.every(Number.isFinite)) throw new RangeError("A slope needs finite numbers.");
  const every = Math.ceil(xs.length / MOST_POINTS);
  const chosen = xs.map((_, i) => i).filter((i) => i % every === 0);
  const count = chosen.length;
  const slopes: number[] = [];
  for (const [nth, i] of chosen.entries()) {
    for (const j of chosen.slice(nth + 1)) {
      if (xs[i] !== xs[j]) slopes.push((ys[j]! - ys[i]!) / (xs[j]! - xs[i]!));
    }
  }
  if (slopes.length === 0) return { value: null, low: null, high: null, count, unit, why: "fewer than two instants to compare" };
  const sorted = Float64Array.from(slopes).sort();
  const value = medianOfSorted(sorted);
  const reach = normalDeviate(confidence) * Math.sqrt((count * (count - 1) * (2 * count + 5)) / 18);
  const rank = Math.floor((sorted.length - reach) / 2);
  if (rank < 1) return { value, low: null, high: null, count, unit, why: `too few values (${count}) for an interval` };
  return { value, low: sorted[rank - 1]!, high: sorted[sorted.length - rank]!, count, unit, why: null };
}
