import { medianOf } from "./median.js";
import { twoSharesPValue } from "./two-shares.js";

/**
 * The two-sided p-value for "both lots of independent values have the same distribution" against a shift of the median: how
 * many of each lot lie above a common split, by Fisher's exact test. The split is the median of all values, which counts as
 * below where that parts the whole more evenly, else as above: meters resolve coarsely, and where most values are alike a
 * shift down would be seen on neither side otherwise. The choice looks at all values together only, so the test stays
 * exact, whatever their distribution. 1 when one lot is empty or all values are the same.
 * Source: Mood's median test (Mood 1950), in its exact form; what is done with ties at the median is our own choice.
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
