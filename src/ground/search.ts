/**
 * Index of the first of `count` places for which `holds` is true; `count` when there is none. `holds` must be false up to
 * some place and true from there on. Binary search.
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

/** Index of the first value ≥ `limit` in rising `values`; their length when there is none. Written out: replays call it most. */
export function firstAtOrAfter(values: ArrayLike<number>, limit: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (values[middle]! < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
