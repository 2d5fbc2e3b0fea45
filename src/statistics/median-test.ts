import { medianOf } from "./median.js";
import { twoSharesPValue } from "./two-shares.js";

/**
 * The two-sided p-value for "both lots of independent values have the same distribution" against a shift of the median:
 * Fisher's exact test on how many values of each lot lie above the median of all. Values equal to the median count as
 * above or below, whichever splits the whole more evenly. Meters are coarse: when most values are equal, a shift to one
 * side would go unseen otherwise. The choice depends on all values together only, so the test is exact for any
 * distribution. 1 when one lot is empty or all values are the same.
 * Source: Mood's median test (Mood 1950), in its exact form; the treatment of ties is our own choice.
 */
export function medianTestPValue(a: readonly number[], b: readonly number[]): number {
  const middle = medianOf([...a, ...b]);
  if (middle === null) return 1;
  const above = (values: readonly number[]): number => values.filter((value) => value > middle).length;
  const atLeast = (values: readonly number[]): number => values.filter((value) => value >= middle).length;
  const half = (a.length + b.length) / 2;
  const uneven = (count: (values: readonly number[]) => number): number => Math.abs(count(a) + count(b) - half);
  const count = uneven(atLeast) < uneven(above) ? atLeast : above;
  return twoSharesPValue(count(a), a.length, count(b), b.length);
}
