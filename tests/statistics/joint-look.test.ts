/** Check values: worked out by the authors of the method apart from this program, to the digits given. */
import { expect, test } from "vitest";
import { largestProduct, meanEvidence, worstOfMeans } from "../../src/statistics/joint-look.js";
import { rateUpperBound } from "../../src/statistics/rate.js";

test("evidence against a mean grows with the mean and falls with the count", () => {
  expect(meanEvidence(6, 0)).toBeCloseTo(4.467, 4);
  expect(meanEvidence(30, 24)).toBeCloseTo(-0.2543, 4);
  expect(meanEvidence(20, 24)).toBeCloseTo(-1.0712, 4);
});

test("the largest product of two means that counts allow at every look", () => {
  const of = (first: number, second: number): number => largestProduct({ first, second }, 0.95);
  expect(of(0, 0)).toBeCloseTo(6.292, 3);
  expect(of(0, 5)).toBeCloseTo(37.712, 3);
  expect(of(0, 24)).toBeCloseTo(139.15, 2);
  expect(of(1, 24)).toBeCloseTo(227.019, 2);
  expect(of(3, 24)).toBeCloseTo(377.331, 2);
  expect(of(10, 40)).toBeCloseTo(1182.13, 2);
  expect(of(0, 72)).toBeCloseTo(410.358, 3);
  expect(of(9, 72)).toBeCloseTo(1885.15, 2);
});

test("the order of the counts does not matter", () => {
  expect(largestProduct({ first: 24, second: 3 }, 0.95)).toBeCloseTo(largestProduct({ first: 3, second: 24 }, 0.95), 3);
});

test("with a common cause the worst pair of means is another one", () => {
  const years = 742.8 / 24 / 365.25;
  const width = 780 / 31_557_600;
  const withShare = (share: number): number => worstOfMeans({ first: 0, second: 24 }, 0.95, ({ first, second }) => (first * second * width) / years ** 2 + (share * Math.min(first, second)) / years);
  expect(withShare(0)).toBeCloseTo(0.479, 4);
  expect(withShare(0.02)).toBeCloseTo(1.7013, 3);
  expect(withShare(0.001)).toBeCloseTo(0.5348, 3);
});

test("one look instead of every look: two bounds, each with half of the permitted error", () => {
  const oneLook = (first: number, second: number, hours: number, seconds: number): number =>
    (rateUpperBound(first, 1, 0.975) * rateUpperBound(second, 1, 0.975) * (seconds / 31_557_600)) / (hours / 24 / 365.25) ** 2;
  expect(oneLook(3, 24, 720, 720)).toBeCloseTo(1.0588, 4);
  expect(oneLook(0, 24, 742.8, 720)).toBeCloseTo(0.4186, 4);
  expect(oneLook(0, 24, 742.8, 780)).toBeCloseTo(0.4535, 4);
});

test("a negative count is a mistake of the caller", () => {
  expect(() => largestProduct({ first: -1, second: 0 }, 0.95)).toThrow("A count of events must be a finite number of 0 or more, not -1.");
});
