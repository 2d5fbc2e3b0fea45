/**
 * Exact and score intervals for a share, two-sided at 0.95.
 * - Wilson, four rows: Newcombe (1998), Statistics in Medicine 17:857–872, Table I method 3. (S) seen second-hand, quoted with
 *   that citation by several public test suites; (R) recomputed with R 4.2.2. The paper itself was not opened.
 * - Clopper–Pearson, the same rows: Table I method 5 at four decimals, (M) from memory, agreeing with (R).
 * - 5 of 25: worked example of influentialpoints.com, "Confidence intervals of proportions" (S); six decimals (R).
 * - 682 of 925, Mendel's peas: the example of R's ?binom.test after Conover (1971), (M) agreeing with (R).
 */
import { describe, expect, test } from "vitest";
import { shareEstimate } from "../../src/statistics/share.js";
import { wilsonEstimate } from "../../src/statistics/wilson.js";

const rows = [
  { x: 81, n: 263, wilson: [0.255289, 0.36621], exact: [0.252737, 0.367622], printedWilson: [0.2553, 0.3662], printedExact: [0.2527, 0.3676] },
  { x: 15, n: 148, wilson: [0.062386, 0.160487], exact: [0.057844, 0.16165], printedWilson: [0.0624, 0.1605], printedExact: [0.0578, 0.1617] },
  { x: 0, n: 20, wilson: [0, 0.161125], exact: [0, 0.168433], printedWilson: [0, 0.1611], printedExact: [0, 0.1684] },
  { x: 1, n: 29, wilson: [0.006113, 0.171755], exact: [0.000873, 0.177644], printedWilson: [0.0061, 0.1718], printedExact: [0.0009, 0.1776] },
] as const;

describe.each(rows)("$x of $n", ({ x, n, wilson, exact, printedWilson, printedExact }) => {
  test("score interval: Newcombe method 3 as printed (S), and recomputed (R)", () => {
    const { low, high } = wilsonEstimate(x / n, n, 0.95);
    expect([low!.toFixed(4), high!.toFixed(4)]).toEqual(printedWilson.map((limit) => limit.toFixed(4)));
    expect(low).toBeCloseTo(wilson[0], 6);
    expect(high).toBeCloseTo(wilson[1], 6);
  });

  test("exact interval: Newcombe method 5 (M), and recomputed (R)", () => {
    const { low, high } = shareEstimate(x, n, 0.95);
    // Half a unit of the last printed place, so that a limit ending in 5 does not hang on the way of rounding.
    expect(Math.abs(low! - printedExact[0])).toBeLessThanOrEqual(0.000051);
    expect(Math.abs(high! - printedExact[1])).toBeLessThanOrEqual(0.000051);
    expect(low).toBeCloseTo(exact[0], 6);
    expect(high).toBeCloseTo(exact[1], 6);
  });
});

test("5 of 25: .068 to .407 exact (S, influentialpoints.com); score interval recomputed (R)", () => {
  const exact = shareEstimate(5, 25, 0.95);
  expect([exact.low!.toFixed(3), exact.high!.toFixed(3)]).toEqual(["0.068", "0.407"]);
  expect(exact.low).toBeCloseTo(0.068311, 6);
  expect(exact.high).toBeCloseTo(0.407037, 6);
  const score = wilsonEstimate(0.2, 25, 0.95);
  expect(score.low).toBeCloseTo(0.088606, 6);
  expect(score.high).toBeCloseTo(0.39131, 6);
});

test("10 of 100, both ways (R)", () => {
  const exact = shareEstimate(10, 100, 0.95);
  expect(exact.low).toBeCloseTo(0.049005, 6);
  expect(exact.high).toBeCloseTo(0.176223, 6);
  const score = wilsonEstimate(0.1, 100, 0.95);
  expect(score.low).toBeCloseTo(0.055229, 6);
  expect(score.high).toBeCloseTo(0.174366, 6);
});

test("Mendel's peas, 682 of 925: .7076683 to .7654066 (M, agreeing with R)", () => {
  const { low, high } = shareEstimate(682, 925, 0.95);
  expect(low).toBeCloseTo(0.7076683, 7);
  expect(high).toBeCloseTo(0.7654066, 7);
});
