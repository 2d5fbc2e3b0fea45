import { normalDeviate } from "./distributions.js";
import type { Estimate } from "../result/estimate.js";

/** A value with its two-sided interval. */
type Interval = Pick<Estimate, "value" | "low" | "high">;

/** Halvings until a probability is found to the last digit that 1 − p can hold. */
const HALVINGS = 54;

/**
 * The two-sided p-value for "both estimate the same", each taken as normal around what it estimates, with the standard error that
 * its interval at `confidence` spans: z = difference / √(sum of squared errors). No error is taken to be smaller than
 * `leastError`, for what is measured in whole steps can have an interval without length. Null where a value or a limit is missing.
 * Source: the textbook comparison of two independent normal estimates; the least error is our own choice.
 */
export function twoEstimatesPValue(one: Interval, other: Interval, confidence: number, leastError: number): number | null {
  const [errorA, errorB] = [standardError(one, confidence, leastError), standardError(other, confidence, leastError)];
  if (one.value === null || other.value === null || errorA === null || errorB === null) return null;
  return beyond(Math.abs(one.value - other.value) / Math.hypot(errorA, errorB));
}

/** Estimates of one thing together, each weighing by the inverse of its squared error; null without any. Source: the textbook. */
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

/** The probability of a standard normal farther than `z` from 0, by halving {@link normalDeviate}: about 1e-16 at the least. */
function beyond(z: number): number {
  if (z === 0) return 1;
  let [within, without] = [0, 1];
  for (let i = 0; i < HALVINGS && without - within > Number.EPSILON; i += 1) {
    const confidence = (within + without) / 2;
    if (normalDeviate(confidence) < z) within = confidence;
    else without = confidence;
  }
  return 1 - within;
}
