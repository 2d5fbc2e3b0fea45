/* eslint-disable @typescript-eslint/no-non-null-assertion -- ranks run from 1 to the number of values */
import { quantileRanks } from "./quantile-ranks.js";
import type { Estimate } from "../result/estimate.js";

/**
 * The `p`-quantile of independent values with a distribution-free interval between two order statistics. The value is
 * the inverse of the empirical distribution, averaged where that is flat (definition 2 of Hyndman & Fan 1996: the usual
 * median). With too few values for a limit, that limit is null and `why` says so. Values in any order.
 * @throws RangeError when a value is not finite, `p` or the confidence is not between 0 and 1.
 */
export function quantileEstimate(values: readonly number[], p: number, confidence: number, unit: string): Estimate {
  const stray = values.find((value) => !Number.isFinite(value));
  if (stray !== undefined) throw new RangeError(`A quantile needs finite values, not ${stray}.`);
  const count = values.length;
  const { lower, upper } = quantileRanks(count, p, confidence);
  if (count === 0) return { value: null, low: null, high: null, count, unit, why: "there are no values" };
  const sorted = Float64Array.from(values).sort();
  const missing = [lower === null ? "lower" : null, upper === null ? "upper" : null].filter((side) => side !== null);
  return {
    value: sampleQuantile(sorted, p),
    low: lower === null ? null : sorted[lower - 1]!,
    high: upper === null ? null : sorted[upper - 1]!,
    count,
    unit,
    why: missing.length === 0 ? null : `too few values (${count}) for the ${missing.join(" and ")} limit`,
  };
}

function sampleQuantile(sorted: Float64Array, p: number): number {
  const position = sorted.length * p;
  const whole = Math.round(position);
  // Rounding may push a product such as 10 × 0.7 off its whole number.
  const onRank = Math.abs(position - whole) < 1e-9 * sorted.length;
  if (onRank && whole >= 1 && whole < sorted.length) return (sorted[whole - 1]! + sorted[whole]!) / 2;
  // 0 < p < 1, so the position rounds up to a rank from 1 to the number of values.
  return sorted[Math.ceil(position) - 1]!;
}
