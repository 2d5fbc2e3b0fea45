import { describe, expect, it } from "vitest";
import { addLikelihood, atLeastProbability, countQuantile, likeliestShape, risingPart, shapes } from "../../../src/compare/fleets/spread.js";
import { randomStream } from "../../../src/simulate/random.js";

/** The probability of a count by its formula in factorials, for small whole shapes: C(count + shape − 1, count) p^shape q^count. */
function mass(count: number, expected: number, shape: number): number {
  let choose = 1;
  for (let i = 1; i <= count; i += 1) choose *= (shape + i - 1) / i;
  return choose * (shape / (shape + expected)) ** shape * (expected / (shape + expected)) ** count;
}

describe("counts whose rates differ by nature", () => {
  it("sums the tail as the formula does", () => {
    const byFormula = 1 - Array.from({ length: 8 }, (_, count) => mass(count, 3, 2)).reduce((sum, one) => sum + one, 0);
    expect(atLeastProbability(8, { expected: 3, shape: 2 })).toBeCloseTo(byFormula, 12);
    expect(atLeastProbability(0, { expected: 3, shape: 2 })).toBe(1);
    expect(atLeastProbability(1, { expected: 0, shape: 2 })).toBe(0);
  });

  it("keeps its digits far out", () => {
    // A geometric count (shape 1) has the tail q^n exactly.
    expect(atLeastProbability(200, { expected: 1, shape: 1 }) / 0.5 ** 200).toBeCloseTo(1, 8);
  });

  it("has quantiles that the tail agrees with, also at large expectations", () => {
    for (const spread of [{ expected: 0.3, shape: 0.5 }, { expected: 12, shape: 4 }, { expected: 5000, shape: 900 }]) {
      const quantile = countQuantile(0.975, spread);
      expect(1 - atLeastProbability(quantile + 1, spread)).toBeGreaterThanOrEqual(0.975);
      expect(1 - atLeastProbability(quantile, spread)).toBeLessThan(0.975);
    }
  });

  it("finds the shape that counts were drawn with, and takes alike ones for alike", () => {
    const random = randomStream(7, "spread");
    const exponential = (): number => -Math.log(1 - random());
    const fit = (rate: () => number): number => {
      const summed = new Float64Array(shapes.length);
      for (let i = 0; i < 2000; i += 1) {
        const mean = 10 * rate();
        let count = -1;
        for (let passed = 0; passed <= mean; count += 1) passed += exponential();
        addLikelihood(summed, risingPart(count), count, 10);
      }
      return likeliestShape(summed);
    };
    // The mean of two exponentials is gamma distributed with shape 2.
    const found = fit(() => (exponential() + exponential()) / 2);
    expect(found).toBeGreaterThan(1.6);
    expect(found).toBeLessThan(2.5);
    expect(fit(() => 1)).toBeGreaterThan(40);
  });
});
