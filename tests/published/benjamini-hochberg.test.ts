/**
 * The fifteen p-values of Benjamini & Hochberg (1995), J. R. Statist. Soc. B 57:289. (S) seen second-hand in more than five
 * public test suites that cite the paper, agreeing with (R) recomputed with R 4.2.2. Adjusted values (S) and (R).
 */
import { expect, test } from "vitest";
import { adjustPValues } from "../../src/statistics/benjamini-hochberg.js";

const published = [0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1];

test("at q = 0.05 the first four are rejected, where Bonferroni rejects three", () => {
  expect(adjustPValues(published).map((p) => p <= 0.05)).toEqual(published.map((_, i) => i < 4));
  expect(published.filter((p) => p * published.length <= 0.05).length).toBe(3);
});

test("the adjusted values", () => {
  const adjusted = adjustPValues(published);
  [0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765, 0.486, 0.581182, 0.714875, 0.753231, 0.813214, 1].forEach((expected, i) =>
    expect(adjusted[i]).toBeCloseTo(expected, 6),
  );
});

test("the order in which they come does not matter", () => {
  const adjusted = adjustPValues(published.toReversed()).toReversed();
  expect(adjusted).toEqual(adjustPValues(published));
});
