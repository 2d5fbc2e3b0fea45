import { expect, test } from "vitest";
import { exponential, happens, normal, pick, poissonInstants, randomStream, uniform } from "../../src/simulate/random.js";

const draws = (count: number, draw: () => number): number[] => Array.from({ length: count }, draw);
const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

test("the same seed and names give the same stream; another seed, name or split of names another one", () => {
  const first = draws(5, randomStream(1, "sensor", "a"));
  expect(draws(5, randomStream(1, "sensor", "a"))).toEqual(first);
  for (const other of [randomStream(2, "sensor", "a"), randomStream(1, "sensor", "b"), randomStream(1, "sensora"), randomStream(1, "sensor", "", "a")]) {
    expect(draws(5, other)).not.toEqual(first);
  }
});

test("the stream is pinned: a change of the generator would change all sample data", () => {
  expect(draws(3, randomStream(1, "pinned")).map((value) => value.toFixed(9))).toMatchInlineSnapshot(`
    [
      "0.826149902",
      "0.598758098",
      "0.089275696",
    ]
  `);
});

test("draws are even over [0, 1): 20 cells, chi-square within what 1 in 10 000 streams exceeds", () => {
  for (const name of ["a", "b", "c"]) {
    const cells = new Array<number>(20).fill(0);
    const values = draws(20_000, randomStream(3, name));
    expect(values.every((value) => value >= 0 && value < 1)).toBe(true);
    for (const value of values) {
      cells[Math.floor(value * 20)]! += 1;
    }
    expect(cells.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)).toBeLessThan(50.8);
  }
});

test("streams with neighbouring names are not correlated", () => {
  const [a, b] = [draws(10_000, randomStream(5, "d1")), draws(10_000, randomStream(5, "d2"))];
  const covariance = mean(a.map((value, i) => (value - 0.5) * (b[i]! - 0.5)));
  expect(Math.abs(covariance * 12)).toBeLessThan(0.04);
});

test("the distributions have the means and spreads that they promise", () => {
  const random = randomStream(11, "shapes");
  const normals = draws(20_000, () => normal(random));
  expect(mean(normals)).toBeCloseTo(0, 1);
  expect(mean(normals.map((value) => value * value))).toBeCloseTo(1, 1);
  expect(mean(draws(20_000, () => exponential(random, 5))) / 5).toBeCloseTo(1, 1);
  expect(mean(draws(20_000, () => uniform(random, 2, 4)))).toBeCloseTo(3, 1);
  expect(mean(draws(20_000, () => Number(happens(random, 0.2))))).toBeCloseTo(0.2, 1);
});

test("a Poisson process is in order, stays within its bounds, and none happens at rate 0", () => {
  const instants = poissonInstants(randomStream(2, "poisson"), 1000, 101_000, 0.01);
  expect(instants.every((at, i) => at >= 1000 && at < 101_000 && (i === 0 || at > instants[i - 1]!))).toBe(true);
  // Mean 1000, standard deviation about 32.
  expect(Math.abs(instants.length - 1000)).toBeLessThan(130);
  expect(poissonInstants(randomStream(2, "poisson"), 0, 100, 0)).toEqual([]);
});

test("picking from nothing is an error", () => {
  expect(pick(randomStream(1, "pick"), ["only"])).toBe("only");
  expect(() => pick(randomStream(1, "pick"), [])).toThrow("Nothing to pick from.");
});
