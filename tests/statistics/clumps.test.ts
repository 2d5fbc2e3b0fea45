import { describe, expect, test } from "vitest";
import { clumped, mostUneven, unevenPeriods } from "../../src/statistics/clumps.js";

describe("events in clumps", () => {
  test("one by one they count as they are", () => {
    expect(clumped([1, 1, 1], 1)).toEqual({ count: 3, factor: 1 });
  });

  test("clumps of one size are as many events as there are clumps, each standing for its size", () => {
    expect(clumped([4, 4], 4)).toEqual({ count: 2, factor: 4 });
  });

  test("without any, the one that may come counts for all of its events", () => {
    expect(clumped([], 5)).toEqual({ count: 0, factor: 5 });
  });

  // Weights 1, 2, 3 with 3 to come: 18.0556 at 0.95, by the gamma form of Fay & Feuer; the check value is recomputed from that formula.
  test("of unlike sizes they count as fewer, larger ones", () => {
    const { count, factor } = clumped([1, 2, 3], 3);
    expect(factor).toBeCloseTo(23 / 9, 12);
    expect(count).toBeCloseTo(81 / 23 - 1, 12);
  });
});

describe("how uneven days are", () => {
  const month = (counts: readonly number[]): number[] => [...counts, ...Array.from({ length: 30 - counts.length }, () => 0)];

  test("events that come one on every other day leave little doubt", () => {
    expect(mostUneven(Array.from({ length: 30 }, (_, day) => day % 2))).toBe(1);
  });

  test("twelve events on one day of thirty are a clump of about their number", () => {
    expect(mostUneven(month([12]))!).toBeGreaterThan(12);
  });

  test("with few events, or few days, nobody can tell", () => {
    expect(mostUneven(month([3, 3]))).toBeNull();
    expect(mostUneven(month([5, 4]))).toBeNull();
    expect(mostUneven([5, 5, 5])).toBeNull();
    expect(mostUneven(Array.from({ length: 19 }, () => 2))).toBeNull();
  });

  // The lower 5 % point of χ² with 19 degrees of freedom is 10.117 in every table. Ten events on one of twenty days: the
  // index of dispersion times 19 is (9.5² + 19 · 0.5²) / 0.5 = 190.
  test("ten events on one of twenty days, the fewest that tell, give 190 / 10.117", () => {
    expect(mostUneven([10, ...Array.from({ length: 19 }, () => 0)])).toBeCloseTo(190 / 10.117, 3);
  });
});

test("months as uneven as 0, 0, 14 are not one steady rate, months as even as 4, 5, 6 may be", () => {
  expect(unevenPeriods([0, 0, 14], [1, 1, 1], 0.01)).toBe(true);
  expect(unevenPeriods([4, 5, 6], [1, 1, 1], 0.01)).toBe(false);
  expect(unevenPeriods([4, 5], [1, 1], 0.01)).toBeNull();
});

describe("counts of several periods", () => {
  // The upper 1 % and 0.5 % points of χ² with two degrees of freedom: 9.210 and 10.597. Five in one of three like periods: 10.
  test("five events are enough to tell, four are not", () => {
    expect(unevenPeriods([0, 0, 5], [1, 1, 1], 0.01)).toBe(true);
    expect(unevenPeriods([0, 0, 5], [1, 1, 1], 0.005)).toBe(false);
    expect(unevenPeriods([0, 0, 4], [1, 1, 1], 0.5)).toBeNull();
  });

  test("are even when they keep to the time watched", () => {
    expect(unevenPeriods([2, 4, 8], [1, 2, 4], 0.5)).toBe(false);
    expect(unevenPeriods([2, 4, 8], [4, 2, 1], 0.01)).toBe(true);
  });

  test("a period without time watched says nothing, and no time at all tells nothing", () => {
    expect(unevenPeriods([5, 1, 5], [1, 0, 1], 0.01)).toBe(false);
    expect(unevenPeriods([5, 1, 5], [0, 0, 0], 0.01)).toBeNull();
  });
});
