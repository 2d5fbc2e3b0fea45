/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of classes */
/** Where a histogram splits in two, and how good every other place would have been. */
interface OtsuSplit {
  /** The last class of the lower part; null when all values lie in one class, so that nothing can be split. */
  readonly last: number | null;
  /**
   * The last class up to which a split is equally good because nothing lies in between: `last` itself, or the end of a
   * gap.
   */
  readonly gapEnd: number | null;
  /** `betweenClassVariance[t]` for the lower part being classes `0..t`, in squared classes; one fewer than classes. */
  readonly betweenClassVariance: Float64Array;
}

/**
 * The split of a histogram that makes the variance between its two parts largest; the first of several equally good.
 * Source: Otsu (1979). Linear in the number of classes.
 */
export function otsuSplit(counts: ArrayLike<number>): OtsuSplit {
  let total = 0;
  let moment = 0;
  for (let i = 0; i < counts.length; i += 1) {
    total += counts[i]!;
    moment += i * counts[i]!;
  }
  const betweenClassVariance = new Float64Array(Math.max(0, counts.length - 1));
  let below = 0;
  let momentBelow = 0;
  let last: number | null = null;
  for (let t = 0; t < betweenClassVariance.length; t += 1) {
    below += counts[t]!;
    momentBelow += t * counts[t]!;
    if (below === 0 || below === total) continue;
    const share = below / total;
    const apart = momentBelow / below - (moment - momentBelow) / (total - below);
    betweenClassVariance[t] = share * (1 - share) * apart * apart;
    if (last === null || betweenClassVariance[t]! > betweenClassVariance[last]!) last = t;
  }
  let gapEnd = last;
  while (gapEnd !== null && gapEnd + 1 < betweenClassVariance.length && counts[gapEnd + 1] === 0) gapEnd += 1;
  return { last, gapEnd, betweenClassVariance };
}
