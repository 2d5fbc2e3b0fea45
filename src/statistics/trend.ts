import { chiSquareQuantile } from "./distributions.js";

/** With fewer events than this a trend cannot be told from chance. Our own choice. */
const LEAST_EVENTS_FOR_TREND = 4;

/**
 * Whether events come more and more often: `places` are where each lies in the time watched, 0 to 1. Their mean is too late to be
 * chance, one-sided at `chance`. Null with fewer than {@link LEAST_EVENTS_FOR_TREND}.
 * Source: the Laplace (centroid) test for trend, NIST/SEMATECH e-Handbook 8.2.3.4 (from memory): (mean − 1/2) √(12 n) is standard normal.
 */
export function comesMoreOften(places: readonly number[], chance: number): boolean | null {
  if (places.length < LEAST_EVENTS_FOR_TREND) return null;
  const mean = places.reduce((sum, one) => sum + one, 0) / places.length;
  const deviate = (mean - 0.5) * Math.sqrt(12 * places.length);
  // The square of a standard normal is chi-square with one degree of freedom; one side of it is half of both.
  return deviate > Math.sqrt(chiSquareQuantile(1 - 2 * chance, 1));
}
