/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of shapes */
/**
 * Shapes of the gamma distribution of the units' own rates that are tried, from very unlike (0.1) to nearly alike
 * (100), in steps of a fifth. The largest stands for "within ten per cent of one another": units of the same make are
 * never taken to be more alike than that, however little the counts show of it. Our own choice.
 */
export const shapes: readonly number[] = Array.from({ length: 39 }, (_, i) => Math.min(100, 0.1 * 1.2 ** i));

/**
 * The part of a count's log-likelihood that depends on the count and the shape alone, at every shape of {@link shapes}:
 * log Γ(shape + count) / Γ(shape).
 */
export function risingPart(count: number): Float64Array {
  return Float64Array.from(shapes, (shape) => {
    let sum = 0;
    for (let j = 0; j < count; j += 1) sum += Math.log(shape + j);
    return sum;
  });
}

/**
 * Adds to `summed` the log-likelihood of a count at every shape, without the terms that are the same for every shape. The
 * count is Poisson, its rate gamma distributed around the expectation: a negative binomial count. `sign` −1 takes it away.
 */
export function addLikelihood(summed: Float64Array, rising: Float64Array, count: number, expected: number, sign: 1 | -1 = 1): void {
  for (let i = 0; i < shapes.length; i += 1) {
    const shape = shapes[i]!;
    summed[i]! += sign * (rising[i]! + shape * Math.log(shape) - (shape + count) * Math.log(shape + expected));
  }
}

/** The shape at which the summed log-likelihood is largest; the largest shape of several. */
export function likeliestShape(summed: Float64Array): number {
  let best = 0;
  for (let i = 1; i < summed.length; i += 1) if (summed[i]! >= summed[best]!) best = i;
  return shapes[best]!;
}

/** A count with a gamma distributed rate around an expectation. */
export interface SpreadCount {
  readonly expected: number;
  readonly shape: number;
}

/** P(count ≥ `least`), summed from the side that keeps its digits. */
export function atLeastProbability(least: number, spread: SpreadCount): number {
  if (least <= 0) return 1;
  if (spread.expected === 0) return 0;
  const below = sumMass(spread, 0, (count) => count < least);
  if (1 - below > 1e-6) return 1 - below;
  // Far out, 1 − P(below) is lost to rounding: the tail is summed by itself, until nothing is added any more.
  return sumMass(spread, least, (_, mass, total) => mass > total * 1e-15);
}

/** The smallest count with P(≤ count) of at least `probability`, for control limits. */
export function countQuantile(probability: number, spread: SpreadCount): number {
  if (spread.expected === 0) return 0;
  // No quantile that is asked for lies fifty deviations out; rounding must not make the search endless.
  const farthest = spread.expected + 50 * Math.sqrt(spread.expected + spread.expected ** 2 / spread.shape) + 50;
  let quantile = 0;
  sumMass(spread, 0, (count, _, total) => {
    quantile = count;
    return total < probability && count < farthest;
  });
  return Math.max(0, quantile - 1);
}

/**
 * Sums P(count) from `first` upwards while `goesOn` says so of the next count, its mass and the total before it.
 * Masses are followed as logarithms: at large expectations the first ones are smaller than any number.
 */
function sumMass({ expected, shape }: SpreadCount, first: number, goesOn: (count: number, mass: number, total: number) => boolean): number {
  const logRatio = -Math.log1p(shape / expected);
  let logMass = -shape * Math.log1p(expected / shape) + first * logRatio;
  for (let count = 0; count < first; count += 1) logMass += Math.log((count + shape) / (count + 1));
  let total = 0;
  for (let count = first; goesOn(count, Math.exp(logMass), total); count += 1) {
    total += Math.exp(logMass);
    logMass += Math.log((count + shape) / (count + 1)) + logRatio;
  }
  return total;
}
