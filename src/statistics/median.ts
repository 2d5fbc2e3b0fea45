/* eslint-disable @typescript-eslint/no-non-null-assertion -- there is at least one value, and half their number is an index */
/** The usual median of values in any order; null without any. */
export function medianOf(values: ArrayLike<number>): number | null {
  // A typed array sorts numbers without a callback.
  return values.length === 0 ? null : medianOfSorted(Float64Array.from(values).sort());
}

/** The usual median of one or more values in rising order. */
export function medianOfSorted(sorted: Float64Array): number {
  const half = sorted.length >>> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
