/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of rates */
import type { Mixed } from "./mixed.js";

/** How unlike units may be by nature: relative rates with mean 1 and this standard deviation. */
export interface Nature {
  readonly family: "gamma" | "lognormal";
  readonly deviation: number;
}

/**
 * From "within ten per cent of one another" (units of the same make are never taken to be more alike than that, however little the
 * counts show of it) to three times their mean. Our own choice.
 */
const DEVIATIONS: readonly number[] = Array.from({ length: 25 }, (_, i) => 0.1 * 1.15 ** i);

/** All natures that are reckoned with; of each family the more alike first. */
export const natures: readonly Nature[] = (["gamma", "lognormal"] as const).flatMap((family) => DEVIATIONS.map((deviation) => ({ family, deviation })));

/** Lowest and highest relative rate. What lies beyond is added to them. */
const [LOWEST, HIGHEST] = [0.03, 60];
/** Step between the logarithms of two relative rates; and the smallest, for many units together. */
const [STEP, LEAST_STEP] = [0.15, 0.01];

/**
 * The relative rates of `worth` units taken together: the sum of so many has a deviation that is smaller by the root of
 * their number, and is taken to be of the same family (for the gamma distribution that is exact).
 */
export function spreadOf({ family, deviation }: Nature, worth: number): Mixed {
  const step = Math.max(LEAST_STEP, STEP / Math.sqrt(worth));
  const [from, to] = [Math.round(Math.log(LOWEST) / step), Math.round(Math.log(HIGHEST) / step)];
  const logRates = Float64Array.from({ length: to - from + 1 }, (_, i) => (from + i) * step);
  const rates = logRates.map(Math.exp);
  const variance = deviation ** 2 / worth;
  return { rates, logRates, shares: centred(rates, logRates, family === "gamma" ? logGamma(1 / variance) : logNormal(Math.log1p(variance))) };
}

/** Logarithm of the density of the rate's logarithm, up to a constant. */
type LogDensity = (logRate: number) => number;

function logGamma(shape: number): LogDensity {
  return (log) => shape * (log - Math.exp(log));
}

function logNormal(variance: number): LogDensity {
  return (log) => -((log + variance / 2) ** 2) / (2 * variance);
}

/** Shares that add up to 1, moved until their mean is 1. */
function centred(rates: Float64Array, logRates: Float64Array, density: LogDensity): Float64Array {
  let moved = 0;
  for (let round = 0; ; round += 1) {
    const logs = logRates.map((log) => density(log + moved));
    const most = logs.reduce((so, one) => Math.max(so, one), -Infinity);
    const shares = logs.map((one) => Math.exp(one - most));
    const total = shares.reduce((so, one) => so + one, 0);
    if (round === 4) return shares.map((one) => one / total);
    moved += Math.log(shares.reduce((so, one, j) => so + one * rates[j]!, 0) / total);
  }
}
