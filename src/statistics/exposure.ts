import type { Estimate } from "./estimate.js";
import { rateUpperBound } from "./rate.js";

/**
 * The exposure behind a rate made by `rateEstimate`, in the unit the rate counts by: read back from the upper end of its
 * interval, which is there also when nothing was counted. Exact but for rounding; 0 where there is no rate.
 * @throws RangeError when the confidence is not between 0 and 1.
 */
export function exposureBehind(rate: Estimate, confidence: number): number {
  return rate.high === null || rate.high === 0 ? 0 : rateUpperBound(rate.count, 1, (1 + confidence) / 2) / rate.high;
}
