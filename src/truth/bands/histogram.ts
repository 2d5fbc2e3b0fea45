/** Counts of values in equal bins: bin i holds `from + i × width` up to, not including, the next; the last includes its end. */
export interface Histogram {
  readonly from: number;
  readonly width: number;
  readonly counts: readonly number[];
}

/** Counts values in `bins` equal bins between two ends; values beyond them fall into the outermost bins. */
export function histogramOf(values: ArrayLike<number>, from: number, to: number, bins: number): Histogram {
  const width = Math.max(to - from, 1e-9) / bins;
  const counts = Array<number>(bins).fill(0);
  for (let i = 0; i < values.length; i += 1) counts[Math.min(bins - 1, Math.max(0, Math.floor((values[i]! - from) / width)))]! += 1;
  return { from, width, counts };
}

/** The middle of bin `i`. */
export function binMiddle({ from, width }: Histogram, i: number): number {
  return from + (i + 0.5) * width;
}
