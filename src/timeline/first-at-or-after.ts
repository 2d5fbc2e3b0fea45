/** Index of the first value ≥ `limit` in rising `values`; their length when there is none. Binary search. */
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
