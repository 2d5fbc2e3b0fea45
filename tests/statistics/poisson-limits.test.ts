import { describe, expect, test } from "vitest";
import { poissonLimits } from "../../src/statistics/poisson-limits.js";

/** The smallest k whose cumulative probability reaches q, summed term by term. */
function quantileBySumming(q: number, expected: number): number {
  let term = Math.exp(-expected);
  let sum = term;
  let k = 0;
  while (sum < q) {
    k += 1;
    term *= expected / k;
    sum += term;
  }
  return k;
}

describe("control limits of a Poisson count", () => {
  test("are the quantiles that summing the probabilities gives", () => {
    for (const expected of [0.01, 0.3, 1, 2.7, 5, 9.99, 20, 61.5, 200]) {
      for (const confidence of [0.8, 0.95, 0.99]) {
        expect(poissonLimits(expected, confidence)).toEqual({ low: quantileBySumming((1 - confidence) / 2, expected), high: quantileBySumming((1 + confidence) / 2, expected) });
      }
    }
  });
  test("are both 0 when nothing is expected", () => {
    expect(poissonLimits(0, 0.95)).toEqual({ low: 0, high: 0 });
  });
  test("need an expectation that is a number", () => {
    expect(() => poissonLimits(-1, 0.95)).toThrow(RangeError);
    expect(() => poissonLimits(Infinity, 0.95)).toThrow(RangeError);
  });
});
