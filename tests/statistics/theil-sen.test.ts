import { expect, test } from "vitest";
import { slopeEstimate } from "../../src/statistics/theil-sen.js";

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
  expect(slope.count).toBe(556);
});

test("six hundred points are all used, more are thinned to every second", () => {
  const points = (count: number): number => slopeEstimate(ranks(count), ranks(count), 0.95, "").count;
  expect([points(600), points(601), points(1200), points(1201)]).toEqual([600, 301, 600, 401]);
});

// By hand: eight points on a line but for the last have 21 slopes of 1 and seven of 1 + 70 / d at distance d = 1 to 7. The error of Kendall's
// statistic is √(8 · 7 · 21 / 18) = 8.0829; at 0.95 the ranks lie (28 ∓ 15.842) / 2 from the ends: the 6th from each.
test("its limits are the slopes at Kendall's ranks", () => {
  const ys = [0, 1, 2, 3, 4, 5, 6, 77];
  const { high, ...rest } = slopeEstimate(ranks(8), ys, 0.95, "per day");
  expect(high).toBeCloseTo(1 + 70 / 6, 12);
  expect(rest).toEqual({ value: 1, low: 1, count: 8, unit: "per day", why: null });
});

// Four points have six slopes; at 0.6 the ranks lie (6 ∓ 0.8416 · √(4 · 3 · 13 / 18)) / 2 from the ends: the first from each; at 0.8, none.
test("an interval that reaches the first and the last slope is the widest there is", () => {
  expect(slopeEstimate([0, 1, 2, 3], [0, 1, 3, 7], 0.6, "")).toMatchObject({ low: 1, high: 4, why: null });
  expect(slopeEstimate([0, 1, 2, 3], [0, 1, 3, 7], 0.99, "")).toMatchObject({ low: null, high: null });
});

test("refuses lists of different lengths and what is not finite", () => {
  expect(() => slopeEstimate([1], [1, 2], 0.95, "")).toThrow(new RangeError("A slope needs as many y as x, not 2 and 1."));
  expect(() => slopeEstimate([1, NaN], [1, 2], 0.95, "")).toThrow(new RangeError("A slope needs finite numbers."));
  expect(() => slopeEstimate([1, 2], [1, Infinity], 0.95, "")).toThrow(new RangeError("A slope needs finite numbers."));
  expect(() => slopeEstimate([1, 2], [1, 2], 1, "")).toThrow(new RangeError("A confidence lies between 0 and 1, not 1."));
});
