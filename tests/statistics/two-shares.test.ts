import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { twoSharesPValue } from "../../src/statistics/two-shares.js";

/** All tables with the same margins, by factorials. */
function bruteForce(a: number, m: number, b: number, n: number): number {
  const factorial = (k: number): number => (k <= 1 ? 1 : k * factorial(k - 1));
  const choose = (k: number, of: number): number => factorial(of) / factorial(k) / factorial(of - k);
  const probability = (k: number): number => (choose(k, m) * choose(a + b - k, n)) / choose(a + b, m + n);
  let sum = 0;
  for (let k = Math.max(0, a + b - n); k <= Math.min(m, a + b); k += 1) if (probability(k) <= probability(a) * (1 + 1e-7)) sum += probability(k);
  return sum;
}

describe("two shares compared", () => {
  it("gives 34/70 for three of four against one of four", () => {
    expect(twoSharesPValue(3, 4, 1, 4)).toBeCloseTo(34 / 70, 12);
  });

  it("says nothing where nothing was tried, or all or nothing succeeded", () => {
    expect([twoSharesPValue(0, 0, 3, 9), twoSharesPValue(0, 5, 0, 9), twoSharesPValue(5, 5, 9, 9)]).toEqual([1, 1, 1]);
  });

  it("sums the tables that are as unlikely, as brute force does", () => {
    const side = fc.integer({ min: 1, max: 12 }).chain((trials) => fc.tuple(fc.integer({ min: 0, max: trials }), fc.constant(trials)));
    fc.assert(
      fc.property(side, side, ([a, m], [b, n]) => {
        const expected = a + b === 0 || a + b === m + n ? 1 : bruteForce(a, m, b, n);
        expect(twoSharesPValue(a, m, b, n)).toBeCloseTo(Math.min(1, expected), 9);
        expect(twoSharesPValue(b, n, a, m)).toBeCloseTo(twoSharesPValue(a, m, b, n), 9);
      }),
    );
  });

  it("refuses counts that are not whole and more successes than trials", () => {
    expect(() => twoSharesPValue(0.5, 1, 0, 1)).toThrow(new RangeError("A count must be a whole number of 0 or more, not 0.5."));
    expect(() => twoSharesPValue(2, 1, 0, 1)).toThrow(new RangeError("There cannot be more successes than trials."));
    expect(() => twoSharesPValue(0, 1, 2, 1)).toThrow(new RangeError("There cannot be more successes than trials."));
  });

  it("stays in 0 to 1 at counts of years", () => {
    expect(twoSharesPValue(300, 40_000, 900, 41_000)).toBeLessThan(1e-50);
    expect(twoSharesPValue(300, 40_000, 307, 41_000)).toBeGreaterThan(0.5);
  });
});
