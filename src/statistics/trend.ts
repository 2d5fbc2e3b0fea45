import { sum } from "d3-array";
import { normalDeviate } from "./distributions.js";

/** With fewer events a trend cannot be told from chance. Our own choice. */
const LEAST_EVENTS_FOR_TREND = 4;

/**
 * Whether events come more and more often: whether the mean of `places`, where each event lies in the time watched from
 * 0 to 1, is too late to be chance, one-sided at `chance`. Null with fewer than four events.
 * Source: the Laplace (centroid) test for trend, NIST/SEMATECH e-Handbook 8.2.3.4 (from memory): (mean − 1/2) √(12 n)
 * is standard normal.
 */
export function comesMoreOften(places: readonly number[], chance: number): boolean | null {
  if (places.length < LEAST_EVENTS_FOR_TREND) return null;
  const deviate = (sum(places) / places.length - 0.5) * Math.sqrt(12 * places.length);
  return deviate > normalDeviate(1 - 2 * chance);
}
