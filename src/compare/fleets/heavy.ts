/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of deviations or of nodes */
/**
 * Deviations of the logarithm of the units' own rates that are tried, from nearly alike (0.1) to very unlike (2), in steps of a
 * sixth: rates that are lognormal have a heavier tail than gamma ones of the same variance.
 */
export const deviations: readonly number[] = Array.from({ length: 21 }, (_, i) => Math.min(2, 0.1 * 1.165 ** i));

/** Where the standard normal is summed, and the weights there. */
const NODES = Array.from({ length: 61 }, (_, i) => -5 + i / 6);
const WEIGHTS = ((all) => all.map((one) => one / all.reduce((sum, each) => sum + each, 0)))(NODES.map((z) => Math.exp((-z * z) / 2)));

/** The rates at the nodes, their mean 1. */
function ratesAt(deviation: number): readonly number[] {
  const raw = NODES.map((z) => Math.exp(deviation * z));
  const mean = raw.reduce((sum, one, i) => sum + one * WEIGHTS[i]!, 0);
  return raw.map((one) => one / mean);
}

const RATES = deviations.map((deviation) => {
  const rates = ratesAt(deviation);
  return { rates, logs: rates.map(Math.log) };
});

/** The log-likelihood of a count at every deviation, without the terms that are the same for every one. */
export function heavyLikelihood(count: number, expected: number): Float64Array {
  return Float64Array.from(RATES, ({ rates, logs }) => {
    let most = -Infinity;
    const exponents = rates.map((rate, i) => {
      const exponent = count * logs[i]! - expected * rate;
      if (exponent > most) most = exponent;
      return exponent;
    });
    let sum = 0;
    for (let i = 0; i < exponents.length; i += 1) sum += WEIGHTS[i]! * Math.exp(exponents[i]! - most);
    return most + Math.log(sum);
  });
}

/** The deviation at which the summed log-likelihood is largest; the smallest of several. */
export function likeliestDeviation(summed: Float64Array): number {
  let best = 0;
  for (let i = 1; i < summed.length; i += 1) if (summed[i]! > summed[best]!) best = i;
  return deviations[best]!;
}

/** The deviation of the mean of so many rates alike (`worth`): a lognormal of the same variance. */
export function deviationOfMean(deviation: number, worth: number): number {
  return Math.sqrt(Math.log1p(Math.expm1(deviation ** 2) / worth));
}

/** P(count ≥ `least`) where the count is Poisson and its rate lognormal around the expectation. */
export function heavyAtLeast(least: number, expected: number, deviation: number): number {
  if (least <= 0) return 1;
  if (expected === 0) return 0;
  return ratesAt(deviation).reduce((sum, rate, i) => sum + WEIGHTS[i]! * poissonAtLeast(least, expected * rate), 0);
}

/** P(count ≥ `least`) of a Poisson count, summed from the side that keeps its digits. */
function poissonAtLeast(least: number, mean: number): number {
  let logMass = -mean;
  if (mean > least) {
    let below = 0;
    for (let count = 0; count < least; count += 1) {
      below += Math.exp(logMass);
      logMass += Math.log(mean / (count + 1));
    }
    return Math.max(0, 1 - below);
  }
  for (let count = 0; count < least; count += 1) logMass += Math.log(mean / (count + 1));
  let above = 0;
  for (let count = least, mass = Math.exp(logMass); mass > above * 1e-15; count += 1, mass *= mean / count) above += mass;
  return above;
}
