import { sum } from "d3-array";
import { chiSquareQuantile } from "./distributions.js";

/**
 * Events assumed in one bad spell (a flaky evening, a phone lost for two days) when too few were seen to tell. Our own
 * choice: a rule at its limit whose faults come five at a time is then cleared by luck in fewer than one history in
 * twenty.
 */
export const UNSEEN_CLUMP = 4;

/** Daily counts show whether events come in clumps from this many events… Our own choice. */
const LEAST_EVENTS_TO_TELL = 10;
/** …and this many days on. Our own choice. */
const LEAST_DAYS_TO_TELL = 20;

/** Events in clumps, expressed as fewer independent events that each count for more. */
export interface Clumped {
  /** Independent events; usually a fraction. */
  readonly count: number;
  /** How many events each of them stands for; 1 when events come one by one. */
  readonly factor: number;
}

/**
 * Clumps of events as independent events. `sizes` are the events in each clump, `unseen` is the largest clump that may
 * come next. A weighted sum of Poisson counts is bounded like one Poisson count times a factor, with the next clump
 * added (Fay & Feuer 1997, Statistics in Medicine 16, text not seen). Clumps of one size, with `unseen` of that size,
 * give the plain bound of the number of clumps.
 */
export function clumped(sizes: readonly number[], unseen: number): Clumped {
  const total = sum(sizes) + unseen;
  const squares = sum(sizes, (size) => size * size) + unseen * unseen;
  return { count: (total * total) / squares - 1, factor: squares / total };
}

/**
 * The upper 95 % bound of the variance of daily counts over their mean, at least 1: the value of independent events at
 * a steady rate. Null when there are too few events or days to tell.
 * Source: the index of dispersion, (n − 1) D ~ χ²(n − 1) for Poisson counts (Fisher; text not seen).
 */
export function mostUneven(daily: readonly number[]): number | null {
  const total = sum(daily);
  if (daily.length < LEAST_DAYS_TO_TELL || total < LEAST_EVENTS_TO_TELL) return null;
  const usual = total / daily.length;
  const dispersion = sum(daily, (one) => (one - usual) ** 2) / usual;
  return Math.max(1, dispersion / chiSquareQuantile(0.05, daily.length - 1));
}

/**
 * Whether counts differ more between periods than a steady rate allows: the χ² test of homogeneity at significance
 * `limit`, with counts expected in proportion to `exposures`. Null with fewer than three periods or five events.
 */
export function unevenPeriods(counts: readonly number[], exposures: readonly number[], limit: number): boolean | null {
  const total = sum(counts);
  const exposure = sum(exposures);
  if (counts.length < 3 || total < 5 || exposure === 0) return null;
  const distance = sum(counts, (count, i) => {
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- every count has its exposure
    const expected = (total * exposures[i]!) / exposure;
    return expected === 0 ? 0 : (count - expected) ** 2 / expected;
  });
  return distance > chiSquareQuantile(1 - limit, counts.length - 1);
}
