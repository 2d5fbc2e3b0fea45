import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { atLeast, countQuantiles, cutMean, type Mixed } from "../../../src/compare/fleets/mixed.js";
import { natures, spreadOf } from "../../../src/compare/fleets/nature.js";
import { poissonTail } from "../../../src/statistics/tails.js";

const one: Mixed = { rates: Float64Array.of(1), logRates: Float64Array.of(0), shares: Float64Array.of(1) };
const gammaWith = (shape: number): Mixed => spreadOf({ family: "gamma", deviation: 1 / Math.sqrt(shape) }, 1);
const anyNature = fc.constantFrom(...natures);

/** P(count ≥ least) by the formula in factorials, for whole shapes: C(count + shape − 1, count) p^shape q^count. */
function negativeBinomialTail(least: number, expected: number, shape: number): number {
  let [mass, below] = [(shape / (shape + expected)) ** shape, 0];
  for (let count = 0; count < least; count += 1) {
    below += mass;
    mass *= ((shape + count) / (count + 1)) * (expected / (shape + expected));
  }
  return 1 - below;
}

describe("counts whose rate is one of many", () => {
  it("have the tail of a Poisson count where all rates are alike, also far out", () => {
    for (const [least, mean] of [[0, 3], [1, 0.2], [8, 3], [3, 8], [60, 4], [150, 190]] as const) expect(atLeast(least, mean, one)).toBeCloseTo(poissonTail(least, mean), 12);
    expect(atLeast(60, 4, one) / poissonTail(60, 4)).toBeCloseTo(1, 9);
  });

  it("have the tail that the formula gives where rates are gamma distributed", () => {
    for (const [least, expected, shape] of [[8, 3, 2], [1, 0.4, 1], [40, 12, 4], [14, 6, 20]] as const) expect(atLeast(least, expected, gammaWith(shape)) / negativeBinomialTail(least, expected, shape)).toBeCloseTo(1, 1);
  });

  it("are seldomer far out the more alike units are, and more often with a lognormal nature than with a gamma one", () => {
    const far = (family: "gamma" | "lognormal", deviation: number): number => atLeast(40, 5, spreadOf({ family, deviation }, 1));
    expect(far("gamma", 0.3)).toBeLessThan(far("gamma", 0.6));
    expect(far("lognormal", 0.3)).toBeLessThan(far("lognormal", 0.6));
    expect(far("gamma", 0.6)).toBeLessThan(far("lognormal", 0.6));
  });

  it("have quantiles that the tail agrees with, at small and at large expectations", () => {
    fc.assert(
      fc.property(anyNature, fc.oneof(fc.double({ min: 0.01, max: 29, noNaN: true }), fc.double({ min: 31, max: 200, noNaN: true })), (nature, expected) => {
        const mixed = spreadOf(nature, 1);
        for (const [i, quantile] of countQuantiles([0.025, 0.975], expected, mixed).entries()) {
          const probability = [0.025, 0.975][i]!;
          expect(1 - atLeast(quantile + 1, expected, mixed)).toBeGreaterThanOrEqual(probability - 1e-9);
          if (quantile > 0) expect(1 - atLeast(quantile, expected, mixed)).toBeLessThan(probability + 1e-9);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("have a mean cut off at some count that is the sum of its tails", () => {
    fc.assert(
      fc.property(anyNature, fc.double({ min: 0.01, max: 60, noNaN: true }), fc.integer({ min: 1, max: 90 }), (nature, expected, most) => {
        const mixed = spreadOf(nature, 1);
        const byTails = Array.from({ length: most }, (_, i) => atLeast(i + 1, expected, mixed)).reduce((sum, tail) => sum + tail, 0);
        expect(cutMean(most, expected, mixed)).toBeCloseTo(byTails, 6);
      }),
      { numRuns: 60 },
    );
  });

  it("stay as unlike as their nature says, around a mean of 1, whatever they are worth", () => {
    for (const nature of natures.filter(({ deviation }) => deviation < 1)) {
      for (const worth of [1, 7.5, 60]) {
        const { rates, shares } = spreadOf(nature, worth);
        const mean = shares.reduce((sum, share, j) => sum + share * rates[j]!, 0);
        const variance = shares.reduce((sum, share, j) => sum + share * (rates[j]! - mean) ** 2, 0);
        expect(mean).toBeCloseTo(1, 3);
        expect(Math.sqrt(variance * worth) / nature.deviation).toBeCloseTo(1, 1);
      }
    }
  });
});
