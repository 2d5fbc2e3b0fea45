import { chiSquareQuantile } from "./distributions.js";

/**
 * As many events as one bad spell may bring before any spell was seen, or where too few events were seen to tell how they come.
 * Our own choice: a flaky evening, or a phone that is lost for two days. A rule at its limit whose faults come five at a time is then
 * cleared by luck in fewer than one history in twenty.
 */
export const UNSEEN_CLUMP = 4;

/** From this many events on, spread over this many days, their daily counts say how they come. Our own choices. */
const LEAST_EVENTS_TO_TELL = 10;
/** See {@link LEAST_EVENTS_TO_TELL}. */
const LEAST_DAYS_TO_TELL = 20;

/** Events that come in clumps, as fewer independent ones that count for more. */
export interface Clumped {
  /** Independent events that the bound rests on; a fraction is usual. */
  readonly count: number;
  /** How many events each of them stands for; 1 when they come one by one. */
  readonly factor: number;
}

/**
 * What clumps come to: sizes are the events of each, `unseen` the largest that may come next. A weighted sum of
 * Poisson counts is bounded as if it were one Poisson count times a factor, with the next clump added to it (Fay & Feuer 1997,
 * Statistics in Medicine 16, text not seen). Equal sizes, with `unseen` of that size, give the plain bound of the number of clumps.
 */
export function clumped(sizes: readonly number[], unseen: number): Clumped {
  const total = sizes.reduce((sum, size) => sum + size, unseen);
  const squares = sizes.reduce((sum, size) => sum + size * size, unseen * unseen);
  return { count: (total * total) / squares - 1, factor: squares / total };
}

/**
 * How uneven daily counts may be at most: the upper 95 % bound of their variance over their mean, at least 1. 1 is what events
 * have that come independently at a steady rate. Null where too little was seen to tell.
 * Source: the index of dispersion, (n − 1) D ~ χ²(n − 1) for Poisson counts (Fisher; text not seen).
 */
export function mostUneven(daily: readonly number[]): number | null {
  const total = daily.reduce((sum, one) => sum + one, 0);
  if (daily.length < LEAST_DAYS_TO_TELL || total < LEAST_EVENTS_TO_TELL) return null;
  const mean = total / daily.length;
  const squares = daily.reduce((sum, one) => sum + (one - mean) ** 2, 0) / mean;
  return Math.max(1, squares / chiSquareQuantile(0.05, daily.length - 1));
}

/**
 * Whether counts differ more between periods than a steady rate allows: the chance of so uneven counts, by the χ² test of
 * homogeneity with `exposures` as the expected shares. Null with fewer than three periods or five events.
 */
export function unevenPeriods(counts: readonly number[], exposures: readonly number[], limit: number): boolean | null {
  const total = counts.reduce((sum, one) => sum + one, 0);
  const exposure = exposures.reduce((sum, one) => sum + one, 0);
  if (counts.length < 3 || total < 5 || exposure === 0) return null;
  const distance = counts.reduce((sum, count, i) => {
    const expected = (total * exposures[i]!) / exposure;
    return expected === 0 ? sum : sum + (count - expected) ** 2 / expected;
  }, 0);
  return distance > chiSquareQuantile(1 - limit, counts.length - 1);
}
