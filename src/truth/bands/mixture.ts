/* eslint-disable @typescript-eslint/no-non-null-assertion --
   the fit loops many times over parallel arrays, each index below their length */
/** One normal component. */
export interface Component {
  readonly share: number;
  readonly mean: number;
  readonly deviation: number;
}

/** Two normal components in the order of their means, and how well they fit. */
export interface Mixture {
  readonly components: readonly [Component, Component];
  readonly logLikelihood: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/** Limits of a fit. */
interface MixtureLimits {
  /**
   * No component's standard deviation falls below this (unit of the values): a point mass would fit infinitely well.
   */
  readonly leastDeviation: number;
  readonly mostIterations: number;
  /** Stops when the log-likelihood per value rises by less than this. */
  readonly tolerance: number;
}

const HALF_LOG_TWO_PI = Math.log(2 * Math.PI) / 2;

/**
 * A mixture of two normals by expectation-maximisation, each value counted `weights[i]` times (once by default), from
 * the two parts below and above `split`. Deterministic. Null when one part is empty.
 * Source: Dempster, Laird & Rubin (1977) for the method; the floor under the deviations is ours.
 */
export function fitMixture(values: ArrayLike<number>, split: number, limits: MixtureLimits, weights?: ArrayLike<number>): Mixture | null {
  const weightOf = (i: number): number => (weights === undefined ? 1 : weights[i]!);
  let total = 0;
  for (let i = 0; i < values.length; i += 1) total += weightOf(i);
  const above = new Float64Array(values.length);
  for (let i = 0; i < values.length; i += 1) above[i] = values[i]! > split ? 1 : 0;

  let current = componentsOf(values, above, weightOf, total, limits.leastDeviation);
  if (current === null) return null;
  let logLikelihood = -Infinity;
  for (let iteration = 1; iteration <= limits.mostIterations; iteration += 1) {
    const reached = expectation(values, current, weightOf, above);
    const gain = reached - logLikelihood;
    logLikelihood = reached;
    if (iteration > 1 && gain / total < limits.tolerance)
      return { components: inOrder(current), logLikelihood, iterations: iteration, converged: true };
    const next = componentsOf(values, above, weightOf, total, limits.leastDeviation);
    if (next === null) return null;
    current = next;
  }
  return { components: inOrder(current), logLikelihood, iterations: limits.mostIterations, converged: false };
}

/** Fills `above[i]` with the probability that value i is of the second component; returns the log-likelihood. */
function expectation(
  values: ArrayLike<number>,
  [low, high]: readonly [Component, Component],
  weightOf: (i: number) => number,
  above: Float64Array,
): number {
  let sum = 0;
  for (let i = 0; i < values.length; i += 1) {
    const first = logDensity(values[i]!, low);
    const second = logDensity(values[i]!, high);
    const larger = Math.max(first, second);
    const both = larger + Math.log(Math.exp(first - larger) + Math.exp(second - larger));
    above[i] = Math.exp(second - both);
    sum += weightOf(i) * both;
  }
  return sum;
}

function logDensity(x: number, { share, mean, deviation }: Component): number {
  const z = (x - mean) / deviation;
  return Math.log(share) - Math.log(deviation) - HALF_LOG_TWO_PI - (z * z) / 2;
}

/** The maximisation step: weighted means and (maximum-likelihood) deviations. */
function componentsOf(
  values: ArrayLike<number>,
  above: Float64Array,
  weightOf: (i: number) => number,
  total: number,
  leastDeviation: number,
): [Component, Component] | null {
  const part = (of: (i: number) => number): Component | null => {
    let weight = 0;
    let moment = 0;
    for (let i = 0; i < values.length; i += 1) {
      weight += of(i);
      moment += of(i) * values[i]!;
    }
    if (weight <= 0) return null;
    const mean = moment / weight;
    let squares = 0;
    for (let i = 0; i < values.length; i += 1) squares += of(i) * (values[i]! - mean) ** 2;
    return { share: weight / total, mean, deviation: Math.max(leastDeviation, Math.sqrt(squares / weight)) };
  };
  const low = part((i) => weightOf(i) * (1 - above[i]!));
  const high = part((i) => weightOf(i) * above[i]!);
  return low === null || high === null ? null : [low, high];
}

function inOrder([one, other]: readonly [Component, Component]): readonly [Component, Component] {
  return one.mean <= other.mean ? [one, other] : [other, one];
}
