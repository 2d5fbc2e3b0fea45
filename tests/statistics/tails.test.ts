import { expect, test } from "vitest";
import { binomialCdf } from "../../src/statistics/distributions.js";
import { binomialTail, overlapTail } from "../../src/statistics/tails.js";

/** Of nothing picked, the tail is that of the Poisson part alone. */
const poissonTail = (count: number, mean: number): number => overlapTail(count, 1, 0, 0, mean);

test("binomial tails are those of the library where that has digits, and go on where it has none", () => {
  for (const [count, trials, share] of [[3, 10, 0.2], [1, 1, 0.5], [7, 30, 0.3], [30, 30, 0.9]] as const) {
    expect(binomialTail(count, trials, share)).toBeCloseTo(1 - binomialCdf(count - 1, trials, share), 10);
  }
  expect(binomialTail(40, 40, 0.1) / 1e-40).toBeCloseTo(1, 9);
  expect([binomialTail(-2, 5, 0.5), binomialTail(6, 5, 1)]).toEqual([1, 0]);
  expect([binomialTail(0, 5, 0.5), binomialTail(6, 5, 0.5), binomialTail(1, 5, 0), binomialTail(5, 5, 1)]).toEqual([1, 0, 0, 1]);
});

test("Poisson tails are those of the series", () => {
  expect(poissonTail(1, 0.5)).toBeCloseTo(1 - Math.exp(-0.5), 14);
  expect(poissonTail(3, 2)).toBeCloseTo(1 - Math.exp(-2) * (1 + 2 + 2), 12);
  expect(poissonTail(2, 5)).toBeCloseTo(1 - Math.exp(-5) * 6, 12);
  expect([poissonTail(0, 1), poissonTail(1, 0)]).toEqual([1, 0]);
});

test("a Poisson tail keeps its digits where it is tiny", () => {
  // Two terms of the series: e⁻ᵐ mᵏ / k! (1 + m / (k + 1)).
  expect(poissonTail(20, 0.001) / ((Math.exp(-0.001) * 0.001 ** 20) / 2_432_902_008_176_640_000) / (1 + 0.001 / 21)).toBeCloseTo(1, 8);
});

test("overlaps of two blind picks have their exact chance, by counting every pair of picks", () => {
  const picks = (size: number): number[] => Array.from({ length: 64 }, (_, bits) => bits).filter((bits) => ones(bits) === size);
  for (const [first, second] of [[2, 3], [4, 4], [1, 5]] as const) {
    for (let count = 0; count <= 6; count += 1) {
      const all = picks(first).flatMap((a) => picks(second).map((b) => ones(a & b)));
      expect(overlapTail(count, 6, first, second, 0)).toBeCloseTo(all.filter((both) => both >= count).length / all.length, 12);
    }
  }
  expect(overlapTail(2, 10, 1, 1, 0.3)).toBeCloseTo(0.1 * poissonTail(1, 0.3) + 0.9 * poissonTail(2, 0.3), 12);
});

function ones(bits: number): number {
  return bits.toString(2).replaceAll("0", "").length;
}
