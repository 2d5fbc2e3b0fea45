import betaQuantileOf from "@stdlib/stats-base-dists-beta-quantile";
import binomialCdfOf from "@stdlib/stats-base-dists-binomial-cdf";
import chiSquareQuantileOf from "@stdlib/stats-base-dists-chisquare-quantile";

/** The quantile of Beta(`alpha`, `beta`) at `probability`; both shapes above 0. */
export function betaQuantile(probability: number, alpha: number, beta: number): number {
  return betaQuantileOf(probability, alpha, beta);
}

/** The quantile of the chi-square distribution at `probability`; degrees of freedom above 0. */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  return chiSquareQuantileOf(probability, degreesOfFreedom);
}

/** P(X ≤ `successes`) for X binomial with `trials` trials and success probability `share`. */
export function binomialCdf(successes: number, trials: number, share: number): number {
  return binomialCdfOf(successes, trials, share);
}

/** The z for which a standard normal value lies between −z and z with probability `confidence`; 1.959964 at 0.95. */
export function normalDeviate(confidence: number): number {
  // The square of a standard normal is chi-square with one degree of freedom.
  return Math.sqrt(chiSquareQuantileOf(confidence, 1));
}
