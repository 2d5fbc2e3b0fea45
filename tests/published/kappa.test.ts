/**
 * Cohen's unweighted kappa.
 * - Cohen (1960, 1968), 3×3 proportions with N = 200: .492 is (S), quoted by the example of psych::cohen.kappa ("cohen reports .492");
 *   more decimals (R). The weighted kappa beside it is not ours.
 * - SAS example [[0,4,1],[0,8,0],[0,1,5]] with value, asymptotic standard error and limits: (S), in the tests of statsmodels
 *   (stats/tests/test_inter_rater.py).
 * - Three 2×2 tables for checking by hand: (R).
 */
import { expect, test } from "vitest";
import { kappaEstimate } from "../../src/statistics/kappa.js";
import { normalDeviate } from "../../src/statistics/distributions.js";

test("Cohen's 3×3 table: .492 (S), .4915254 (R)", () => {
  const proportions = [
    [0.44, 0.07, 0.09],
    [0.05, 0.2, 0.05],
    [0.01, 0.03, 0.06],
  ];
  const { value, count } = kappaEstimate(proportions.map((row) => row.map((share) => Math.round(share * 200))), 0.95);
  expect(count).toBe(200);
  expect(value!.toFixed(3)).toBe("0.492");
  expect(value).toBeCloseTo(0.4915254, 7);
});

test("the SAS example: .4842 with standard error .1380, .2137 to .7547 at 0.95 (S)", () => {
  const { value, low, high } = kappaEstimate([[0, 4, 1], [0, 8, 0], [0, 1, 5]], 0.95);
  expect(value).toBeCloseTo(0.4842, 4);
  expect((high! - low!) / 2 / normalDeviate(0.95)).toBeCloseTo(0.138, 4);
  expect(low).toBeCloseTo(0.2137, 4);
  expect(high).toBeCloseTo(0.7547, 4);
});

test.each([
  { table: [[20, 5], [10, 15]], kappa: 0.4 },
  { table: [[45, 15], [25, 15]], kappa: 0.1304348 },
  { table: [[25, 35], [5, 35]], kappa: 0.2592593 },
])("$table: $kappa (R)", ({ table, kappa }) => {
  expect(kappaEstimate(table, 0.95).value).toBeCloseTo(kappa, 7);
});
