import { expect, test } from "vitest";
import { MOST_POINTS, slopeEstimate } from "../../src/statistics/theil-sen.js";

const ranks = (count: number): number[] => Array.from({ length: count }, (_, i) => i);

test("a line is found through wild outliers", () => {
  const xs = ranks(40);
  const ys = xs.map((x) => 3 + 2 * x + (x % 5 === 0 ? 1000 : 0));
  expect(slopeEstimate(xs, ys, 0.95, "per day").value).toBeCloseTo(2);
});

test("too few points have a slope and no interval; one has none", () => {
  expect(slopeEstimate([1, 2, 3], [1, 2, 3], 0.95, "")).toMatchObject({ value: 1, low: null, high: null, why: "too few values (3) for an interval" });
  expect(slopeEstimate([1], [1], 0.95, "")).toMatchObject({ value: null, why: "fewer than two instants to compare" });
  expect(slopeEstimate([1, 1], [1, 5], 0.95, "").value).toBeNull();
});

test("its interval holds the true slope about as often as promised", () => {
  let seed = 1;
  const next = (): number => (seed = (seed * 48_271) % 2_147_483_647) / 2_147_483_647;
  let held = 0;
  for (let run = 0; run < 400; run += 1) {
    const xs = ranks(25);
    const { low, high } = slopeEstimate(xs, xs.map((x) => 0.3 * x + Math.log(next() / (1 - next()))), 0.95, "");
    if (low! <= 0.3 && 0.3 <= high!) held += 1;
  }
  expect(held / 400).toBeGreaterThan(0.92);
  expect(held / 400).toBeLessThan(0.99);
});

test("many points are thinned evenly", () => {
  const xs = ranks(5000);
  const slope = slopeEstimate(xs, xs.map((x) => 7 * x), 0.95, "");
  expect(slope.value).toBe(7);
  expect(slope.count).toBeLessThanOrEqual(MOST_POINTS);
});

test("lists of different lengths are refused", () => {
  expect(() => slopeEstimate([1], [1, 2], 0.95, "")).toThrow("A slope needs as many y as x, not 2 and 1.");
});
