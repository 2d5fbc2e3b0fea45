/**
 * The covariance of maximum-likelihood estimates from the observed information: minus the slope of the score (the gradient
 * of the log-likelihood, here by central differences of half-width `step`), inverted. Null where the likelihood does not
 * curve downwards in every direction: then the estimates cannot all be told from the data.
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

/** Gauss-Jordan without pivoting, which a positive definite matrix does not need; null for any other. */
function inverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const size = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...Array.from({ length: size }, (_, j) => (i === j ? 1 : 0))]);
  for (let i = 0; i < size; i += 1) {
    const pivot = rows[i]![i]!;
    // Against its own size before elimination: what is left of a redundant direction is rounding.
    if (!(pivot > matrix[i]![i]! * 1e-9)) return null;
    rows[i] = rows[i]!.map((one) => one / pivot);
    for (let k = 0; k < size; k += 1) {
      if (k === i) continue;
      const factor = rows[k]![i]!;
      if (factor !== 0) rows[k] = rows[k]!.map((one, j) => one - factor * rows[i]![j]!);
    }
  }
  return rows.map((row) => row.slice(size));
}
