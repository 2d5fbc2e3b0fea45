import { normalDeviate } from "./distributions.js";
import type { Estimate } from "../result/estimate.js";

/** A value with its two-sided interval. */
type Interval = Pick<Estimate, "value" | "low" | "high">;

/**
 * The two-sided p-value for "both estimate the same": z = difference / √(sum of squared errors). Each estimate is taken
 * as normal, with the standard error that its interval at `confidence` spans, or `leastError` if that is larger: values
 * measured in whole steps may have an interval of length 0. Null when a value or a limit is missing.
 * Source: the textbook comparison of two independent normal estimates; the least error is our own choice.
 */
export function twoEstimatesPValue(one: Interval, other: Interval, confidence: number, leastError: number): number | null {
  const [errorA, errorB] = [standardError(one, confidence, leastError), standardError(other, confidence, leastError)];
  if (one.value === null || other.value === null || errorA === null || errorB === null) return null;
  return beyond(Math.abs(one.value - other.value) / Math.hypot(errorA, errorB));
}

/**
 * Several estimates of one thing in one, each weighted by the inverse of its squared error; null without any. Source:
 * the textbook.
 */
export function pooledEstimate(estimates: readonly Interval[], confidence: number, leastError: number): Interval | null {
  let [weights, sum] = [0, 0];
  for (const one of estimates) {
    const error = standardError(one, confidence, leastError);
    if (error === null || one.value === null) continue;
    weights += error ** -2;
    sum += one.value * error ** -2;
  }
  if (weights === 0) return null;
  const reach = normalDeviate(confidence) / Math.sqrt(weights);
  return { value: sum / weights, low: sum / weights - reach, high: sum / weights + reach };
}

function standardError({ low, high }: Interval, confidence: number, leastError: number): number | null {
  return low === null || high === null ? null : Math.max(leastError, (high - low) / 2 / normalDeviate(confidence));
}

/**
 * The probability that a standard normal value lies farther than `z` from 0, by bisection of {@link normalDeviate}; at
 * least about 1e-16.
 */
function beyond(z: number): number {
  if (z === 0) return 1;
  let [within, without] = [0, 1];
  while (without - within > Number.EPSILON) {
    const confidence = (within + without) / 2;
    if (normalDeviate(confidence) < z) within = confidence;
    else without = confidence;
  }
  return 1 - within;
}
