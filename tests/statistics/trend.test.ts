import { describe, expect, test } from "vitest";
import { comesMoreOften } from "../../src/statistics/trend.js";

describe("whether events come more and more often", () => {
  test("ten in the last third are no chance, ten spread over the whole are", () => {
    expect(comesMoreOften(Array.from({ length: 10 }, (_, i) => 0.67 + i / 31), 0.05)).toBe(true);
    expect(comesMoreOften(Array.from({ length: 10 }, (_, i) => (i + 0.5) / 10), 0.05)).toBe(false);
  });

  test("events that become rarer are not told as a trend: only worse counts", () => {
    expect(comesMoreOften([0.01, 0.02, 0.05, 0.1, 0.2], 0.05)).toBe(false);
  });

  test("three events say nothing, four may", () => {
    expect(comesMoreOften([0.97, 0.98, 0.99], 0.05)).toBeNull();
    expect(comesMoreOften([0.97, 0.98, 0.99, 0.99], 0.05)).toBe(true);
  });

  // 1.6449 is the upper 5 % point of the standard normal: the mean of twelve events must lie 1.6449 / 12 beyond the middle.
  test("the border lies where the standard normal puts it", () => {
    const at = (mean: number): number[] => Array.from({ length: 12 }, () => mean);
    expect(comesMoreOften(at(0.5 + 1.6448 / 12), 0.05)).toBe(false);
    expect(comesMoreOften(at(0.5 + 1.645 / 12), 0.05)).toBe(true);
  });
});
