import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { normalDeviate } from "../../src/statistics/distributions.js";
import { kappaEstimate } from "../../src/statistics/kappa.js";

test("agreement no better than chance is 0, the opposite of agreement is below it", () => {
  expect(kappaEstimate([[9, 21], [21, 49]], 0.95).value).toBeCloseTo(0, 12);
  expect(kappaEstimate([[0, 10], [10, 0]], 0.95).value).toBe(-1);
});

test("perfect agreement is 1, without an interval that would feign certainty", () => {
  expect(kappaEstimate([[12, 0], [0, 30]], 0.95)).toEqual({
    value: 1,
    low: null,
    high: null,
    count: 42,
    unit: "kappa",
    why: "no interval: the approximation has no width here",
  });
});

test("two that always said the same one thing have no kappa, nor have two that were never compared", () => {
  expect(kappaEstimate([[42, 0], [0, 0]], 0.95)).toMatchObject({ value: null, count: 42, why: "both always said the same: chance alone would agree as well" });
  expect(kappaEstimate([[0, 0], [0, 0]], 0.95)).toMatchObject({ value: null, count: 0, why: "nothing was compared" });
});

test("one always off, the other always on: that is 0, not unknown", () => {
  expect(kappaEstimate([[0, 42], [0, 0]], 0.95).value).toBe(0);
});

describe("the standard error", () => {
  const anyTable = fc
    .integer({ min: 2, max: 4 })
    .chain((size) => fc.array(fc.array(fc.integer({ min: 1, max: 60 }), { minLength: size, maxLength: size }), { minLength: size, maxLength: size }));

  /** Kappa of shares, straight from its definition. */
  function kappaOf(cells: readonly (readonly number[])[]): number {
    const total = cells.flat().reduce((sum, cell) => sum + cell, 0);
    let agreed = 0;
    let byChance = 0;
    cells.forEach((row, i) => {
      agreed += row[i]! / total;
      byChance += (row.reduce((sum, cell) => sum + cell, 0) / total) * (cells.reduce((sum, other) => sum + other[i]!, 0) / total);
    });
    return (agreed - byChance) / (1 - byChance);
  }

  /** The large-sample error by the delta method, with numerical derivatives of kappa by each cell. */
  function errorByDerivatives(table: readonly (readonly number[])[]): number {
    const total = table.flat().reduce((sum, cell) => sum + cell, 0);
    const nudge = total * 1e-5;
    const slopes = table.map((row, i) =>
      row.map((_, j) => {
        const nudged = (by: number): number => kappaOf(table.map((other, k) => other.map((cell, l) => (k === i && l === j ? cell + by : cell))));
        return ((nudged(nudge) - nudged(-nudge)) / (2 * nudge)) * total;
      }),
    );
    // The slopes are of a scale-free function, so their mean over the shares is 0 and the variance is a plain sum.
    const variance = table.flatMap((row, i) => row.map((cell, j) => (cell / total) * slopes[i]![j]! ** 2)).reduce((sum, part) => sum + part, 0);
    return Math.sqrt(variance / total);
  }

  test("is what the delta method gives with numerical derivatives", () => {
    fc.assert(
      fc.property(anyTable, (table) => {
        const { value, low, high } = kappaEstimate(table, 0.9);
        expect(value).toBeCloseTo(kappaOf(table), 10);
        const half = normalDeviate(0.9) * errorByDerivatives(table);
        expect(low).toBeCloseTo(Math.max(-1, value! - half), 5);
        expect(high).toBeCloseTo(Math.min(1, value! + half), 5);
      }),
    );
  });

  test("kappa does not care who is named first, nor which state", () => {
    fc.assert(
      fc.property(anyTable, (table) => {
        const one = kappaEstimate(table, 0.95);
        for (const same of [table.map((_, i) => table.map((row) => row[i]!)), table.map((row) => row.toReversed()).toReversed()]) {
          const other = kappaEstimate(same, 0.95);
          expect(other.value).toBeCloseTo(one.value!, 10);
          expect(other.low).toBeCloseTo(one.low!, 10);
        }
      }),
    );
  });
});

test("refuses a table that is not square or not of counts", () => {
  expect(() => kappaEstimate([], 0.95)).toThrow(new RangeError("Kappa needs a square table of counts."));
  expect(() => kappaEstimate([[1, 2], [3]], 0.95)).toThrow(RangeError);
  expect(() => kappaEstimate([[1, 2], [3, 4]], 1)).toThrow(new RangeError("A confidence lies between 0 and 1, not 1."));
  expect(() => kappaEstimate([[1, -2], [3, 4]], 0.95)).toThrow(new RangeError("A count must be a finite number of 0 or more, not -2."));
});
