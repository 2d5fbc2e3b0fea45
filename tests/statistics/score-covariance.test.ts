import { expect, test } from "vitest";
import { scoreCovariance } from "../../src/statistics/score-covariance.js";

test("of a share is p (1 − p) / n", () => {
  const [hits, trials] = [30, 100];
  const score = ([share]: readonly number[]): number[] => [hits / share! - (trials - hits) / (1 - share!)];
  expect(scoreCovariance(score, [0.3], 1e-4)![0]![0]).toBeCloseTo((0.3 * 0.7) / 100, 7);
});

test("inverts a matrix: of a quadratic form it is the form's inverse", () => {
  const information = [[4, 1, 0.5], [1, 3, 0.2], [0.5, 0.2, 2]];
  const covariance = scoreCovariance((at) => information.map((row) => -row.reduce((sum, one, j) => sum + one * at[j]!, 0)), [0, 0, 0], 1e-3)!;
  information.forEach((row, i) => [0, 1, 2].forEach((j) => expect(row.reduce((sum, one, k) => sum + one * covariance[k]![j]!, 0)).toBeCloseTo(i === j ? 1 : 0, 9)));
});

test("does not depend on where the estimates lie, nor does a likelihood with a minimum have one", () => {
  const information = [[4, -1], [-1, 3]];
  const score = (sign: number) => (at: readonly number[]): number[] => information.map((row) => sign * (row[0]! * (at[0]! - 7) + row[1]! * (at[1]! + 2)));
  const covariance = scoreCovariance(score(-1), [7, -2], 0.5)!;
  // The inverse of [[4, −1], [−1, 3]] by Cramer's rule: determinant 11.
  [[3 / 11, 1 / 11], [1 / 11, 4 / 11]].forEach((row, i) => row.forEach((one, j) => expect(covariance[i]![j]).toBeCloseTo(one, 12)));
  expect(scoreCovariance(score(1), [7, -2], 0.5)).toBeNull();
});

test("is not to be had where only a sum can be told", () => {
  expect(scoreCovariance(([a, b]) => [-(a! + b!), -(a! + b!)], [0, 0], 1e-3)).toBeNull();
});
