/* eslint-disable @typescript-eslint/no-non-null-assertion -- the matrices are square, and every index runs below their size */
/**
 * The covariance of maximum-likelihood estimates `at`: the inverse of the observed information, which is minus the
 * slope of the `score` (the gradient of the log-likelihood), by central differences of half-width `step`. Null when the
 * likelihood does not curve downwards in every direction: the data cannot tell all of the estimates.
 * Source: the observed information, Efron & Hinkley (1978); the score of an EM fit, Louis (1982) (texts not seen).
 */
export function scoreCovariance(score: (at: readonly number[]) => readonly number[], at: readonly number[], step: number): number[][] | null {
  const slopes = at.map((_, i) => {
    const above = score(at.map((one, j) => (i === j ? one + step : one)));
    const below = score(at.map((one, j) => (i === j ? one - step : one)));
    return above.map((one, j) => (one - below[j]!) / (2 * step));
  });
  return inverse(at.map((_, i) => at.map((__, j) => -(slopes[i]![j]! + slopes[j]![i]!) / 2)));
}

/** The inverse by Gauss-Jordan elimination; null unless positive definite, which is why no pivoting is needed. */
function inverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const size = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...Array.from({ length: size }, (_, j) => (i === j ? 1 : 0))]);
  for (let i = 0; i < size; i += 1) {
    const pivot = rows[i]![i]!;
    // Compared with its size before elimination: a redundant direction leaves nothing but rounding.
    if (!(pivot > matrix[i]![i]! * 1e-9)) return null;
    rows[i] = rows[i]!.map((one) => one / pivot);
    for (let k = 0; k < size; k += 1) {
      if (k === i) continue;
      const factor = rows[k]![i]!;
      rows[k] = rows[k]!.map((one, j) => one - factor * rows[i]![j]!);
    }
  }
  return rows.map((row) => row.slice(size));
}
