import { expect, test } from "vitest";
import { medianOf } from "../../src/statistics/median.js";

test("the median of nothing is nothing", () => {
  expect(medianOf([])).toBeNull();
  expect(medianOf([5, 1, 3])).toBe(3);
  expect(medianOf([4, 1])).toBe(2.5);
});
