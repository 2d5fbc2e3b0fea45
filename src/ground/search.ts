/**
 * The first index below `count` for which `holds` is true; `count` when there is none. Binary search: `holds` must be
 * false up to some index and true from there on.
 */
export function firstWhere(count: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * The index of the first value ≥ `limit` in rising `values`; their length when there is none. Replays call it most, so
 * it takes no callback.
 */
export function firstAtOrAfter(values: ArrayLike<number>, limit: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- `middle` lies below `high`, which is at most the length
    if (values[middle]! < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
