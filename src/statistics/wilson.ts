import { normalDeviate } from "./distributions.js";
import { requireAmount, requireConfidence, requireShare } from "./requirements.js";
import type { Estimate } from "../result/estimate.js";

/**
 * A share with its two-sided score interval, without continuity correction. `looks` is the number of independent looks
 * behind the share; it may be a fraction. A share of *time* counts one look per segment, since a long silence is no
 * more evidence than a short one. No value without a look. `count` is `looks`.
 * Source: Wilson (1927); method 3 of Newcombe (1998).
 * @throws RangeError when the share is outside 0 to 1, `looks` is negative or not finite, or the confidence is not
 * between 0 and 1.
 */
export function wilsonEstimate(share: number, looks: number, confidence: number): Estimate {
  requireConfidence(confidence);
  requireAmount(looks, "The number of looks");
  if (looks === 0) return { value: null, low: null, high: null, count: 0, unit: "share", why: "nothing was seen" };
  requireShare(share, "A share");
  const squared = normalDeviate(confidence) ** 2;
  const shrink = 1 + squared / looks;
  const centre = (share + squared / (2 * looks)) / shrink;
  const half = Math.sqrt(squared * ((share * (1 - share)) / looks + squared / (4 * looks * looks))) / shrink;
  // At shares of 0 and 1 a limit equals the share: rounding must not push it past.
  return { value: share, low: Math.max(0, Math.min(share, centre - half)), high: Math.min(1, Math.max(share, centre + half)), count: looks, unit: "share", why: null };
}
