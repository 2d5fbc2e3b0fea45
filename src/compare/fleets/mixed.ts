/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of rates */
/** Counts are Poisson with a rate that is one of many, each with its share. */
export interface Mixed {
  readonly rates: Float64Array;
  readonly logRates: Float64Array;
  readonly shares: Float64Array;
}

/** Logarithms of factorials, as far as they were needed. */
const logFactorials: number[] = [0];

/** log(count!). */
export function logFactorial(count: number): number {
  for (let i = logFactorials.length; i <= count; i += 1) logFactorials.push(logFactorials[i - 1]! + Math.log(i));
  return logFactorials[count]!;
}

/** P(count ≥ `least`) with this expectation for a unit of relative rate 1. */
export function atLeast(least: number, expected: number, { rates, logRates, shares }: Mixed): number {
  if (least <= 0) return 1;
  if (expected <= 0) return 0;
  const logExpected = Math.log(expected);
  let total = 0;
  for (let j = 0; j < rates.length; j += 1) if (shares[j]! > 0) total += shares[j]! * poissonAtLeast(least, expected * rates[j]!, logExpected + logRates[j]!);
  return Math.min(1, total);
}

/** P(Poisson ≥ `least`), `least` above 0, summed outwards from the smaller side: few terms, and small tails keep their digits. */
export function poissonAtLeast(least: number, mean: number, logMean: number): number {
  if (mean >= least) {
    let term = Math.exp((least - 1) * logMean - mean - logFactorial(least - 1));
    let below = 0;
    for (let k = least - 1; k >= 0 && term > 1e-17 * below && term > 0; k -= 1) {
      below += term;
      term *= k / mean;
    }
    return 1 - below;
  }
  let term = Math.exp(least * logMean - mean - logFactorial(least));
  let above = 0;
  for (let k = least; term > 1e-16 * above && term > 0; k += 1) {
    above += term;
    term *= mean / (k + 1);
  }
  return above;
}

/** Up to this expectation quantiles are found by adding up every count from 0 on. */
const ADDED_UP = 30;

/** The smallest counts with P(≤ count) of at least each of `probabilities`, which rise. */
export function countQuantiles(probabilities: readonly number[], expected: number, mixed: Mixed): number[] {
  if (expected <= 0) return probabilities.map(() => 0);
  return expected <= ADDED_UP ? byAdding(probabilities, expected, mixed) : probabilities.map((one) => bySearch(one, expected, mixed));
}

function byAdding(probabilities: readonly number[], expected: number, { rates, shares }: Mixed): number[] {
  const mass = shares.map((one, j) => one * Math.exp(-expected * rates[j]!));
  const farthest = 200 * (expected + 1);
  let total = 0;
  let count = -1;
  return probabilities.map((probability) => {
    while ((total < probability || count < 0) && count < farthest) {
      if (count >= 0) for (let j = 0; j < rates.length; j += 1) mass[j]! *= (expected * rates[j]!) / (count + 1);
      count += 1;
      for (let j = 0; j < rates.length; j += 1) total += mass[j]!;
    }
    return count;
  });
}

function bySearch(probability: number, expected: number, mixed: Mixed): number {
  let [low, high] = [-1, Math.ceil(expected)];
  while (atLeast(high + 1, expected, mixed) > 1 - probability) [low, high] = [high, 2 * high];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (atLeast(middle + 1, expected, mixed) > 1 - probability) low = middle;
    else high = middle;
  }
  return high;
}

/** The mean of the count where it is cut off at `most`: the sum of P(≥ x) for x from 1 to `most`. */
export function cutMean(most: number, expected: number, { rates, shares }: Mixed): number {
  const mass = shares.map((one, j) => one * Math.exp(-expected * rates[j]!));
  let below = 0;
  let mean = 0;
  for (let count = 0; count < most; count += 1) {
    for (let j = 0; j < rates.length; j += 1) below += mass[j]!;
    mean += Math.max(0, 1 - below);
    for (let j = 0; j < rates.length; j += 1) mass[j]! *= (expected * rates[j]!) / (count + 1);
  }
  return mean;
}
