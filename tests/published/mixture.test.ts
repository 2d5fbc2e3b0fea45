/**
 * A mixture of two normals on the waiting times between eruptions of Old Faithful, in minutes (R's data set `faithful`).
 * - Estimates as printed in the JSS paper of the mixtools package (2009): (M), from memory. - More digits: (R), recomputed in R.
 * The 272 values are written down from memory. That they are the right ones is held by their number, by the log-likelihood
 * and by five estimates, all of which must come out to the last digit given.
 */
import { expect, test } from "vitest";
import { fitMixture } from "../../src/truth/bands/mixture.js";

const waiting = `
79 54 74 62 85 55 88 85 51 85 54 84 78 47 83 52 62 84 52 79 51 47 78 69 74 83 55 76 78 79 73 77 66 80 74 52 48 80 59 90
80 58 84 58 73 83 64 53 82 59 75 90 54 80 54 83 71 64 77 81 59 84 48 82 60 92 78 78 65 73 82 56 79 71 62 76 60 78 76 83
75 82 70 65 73 88 76 80 48 86 60 90 50 78 63 72 84 75 51 82 62 88 49 83 81 47 84 52 86 81 75 59 89 79 59 81 50 85 59 87
53 69 77 56 88 81 45 82 55 90 45 83 56 89 46 82 51 86 53 79 81 60 82 77 76 59 80 49 96 53 77 77 65 81 71 70 81 93 53 89
45 86 58 78 66 76 63 88 52 93 49 57 77 68 81 81 73 50 85 74 55 77 83 83 51 78 84 46 83 55 81 57 76 84 77 81 87 77 51 78
60 82 91 53 78 46 77 84 49 83 71 80 49 75 64 76 53 94 55 76 50 82 54 75 78 79 78 78 70 79 70 54 86 50 90 54 54 77 79 64
75 47 86 63 85 82 57 82 67 74 54 83 73 73 88 80 71 83 56 79 78 84 58 83 43 60 75 81 46 90 46 74`.trim().split(/\s+/).map(Number);

const fit = fitMixture(waiting, 68, { leastDeviation: 1e-3, mostIterations: 10_000, tolerance: 1e-14 })!;

test("there are 272 waits", () => {
  expect(waiting.length).toBe(272);
});

test("log-likelihood −1034.002 (M, R)", () => {
  expect(fit.converged).toBe(true);
  expect(fit.logLikelihood.toFixed(3)).toBe("-1034.002");
});

test("shares, means and deviations (R; to three digits M)", () => {
  const [short, long] = fit.components;
  expect(short.share).toBeCloseTo(0.3608861, 5);
  expect(short.mean).toBeCloseTo(54.61486, 4);
  expect(long.mean).toBeCloseTo(80.09107, 4);
  expect(short.deviation).toBeCloseTo(5.871219, 4);
  expect(long.deviation).toBeCloseTo(5.867734, 4);
});

test("a value of weight two is that value twice", () => {
  const distinct = [...new Set(waiting)];
  const weights = distinct.map((value) => waiting.filter((each) => each === value).length);
  const weighted = fitMixture(distinct, 68, { leastDeviation: 1e-3, mostIterations: 10_000, tolerance: 1e-14 }, weights)!;
  expect(weighted.components[0].mean).toBeCloseTo(fit.components[0].mean, 6);
  expect(weighted.logLikelihood).toBeCloseTo(fit.logLikelihood, 6);
});
