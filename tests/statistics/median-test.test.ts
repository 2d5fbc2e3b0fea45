import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { medianTestPValue } from "../../src/statistics/median-test.js";
import { medianOf } from "../../src/statistics/median.js";

/** Every way to choose `k` of the indices below `n`. */
function choices(n: number, k: number): number[][] {
  if (k === 0) return [[]];
  if (n < k) return [];
  return [...choices(n - 1, k), ...choices(n - 1, k - 1).map((rest) => [...rest, n - 1])];
}

const lots = fc.tuple(fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 1, maxLength: 5 }), fc.array(fc.integer({ min: 0, max: 6 }), { minLength: 1, maxLength: 6 }));

describe("the median test", () => {
  it("gives the share of all ways to deal the values out that are at most as likely in how many fall above: it is exact", () => {
    fc.assert(
      fc.property(lots, ([a, b]) => {
        const all = [...a, ...b];
        const middle = medianOf(all)!;
        const [above, atLeast] = [all.filter((x) => x > middle).length, all.filter((x) => x >= middle).length];
        const isHigh = Math.abs(atLeast - all.length / 2) < Math.abs(above - all.length / 2) ? (x: number): boolean => x >= middle : (x: number): boolean => x > middle;
        const deals = choices(all.length, a.length).map((chosen) => chosen.filter((i) => isHigh(all[i]!)).length);
        const ways = (high: number): number => deals.filter((one) => one === high).length;
        const seen = ways(a.filter(isHigh).length);
        expect(medianTestPValue(a, b)).toBeCloseTo(deals.filter((one) => ways(one) <= seen).length / deals.length, 9);
      }),
      { numRuns: 150 },
    );
  });

  it("does not care which lot is which, nor for a common shift", () => {
    fc.assert(
      fc.property(lots, ([a, b]) => {
        expect(medianTestPValue(b, a)).toBeCloseTo(medianTestPValue(a.map((x) => x + 9), b.map((x) => x + 9)), 12);
      }),
      { numRuns: 100 },
    );
  });

  it("sees a shift down as well as one up where most values are alike", () => {
    const many = Array<number>(90).fill(2.4);
    expect(medianTestPValue(Array<number>(30).fill(2.2), many)).toBeLessThan(1e-12);
    expect(medianTestPValue(Array<number>(30).fill(2.6), many)).toBeLessThan(1e-12);
  });

  it("is 1 where nothing can be told: a lot without values, or values all the same", () => {
    expect([medianTestPValue([], [1, 2]), medianTestPValue([1], []), medianTestPValue([3, 3], [3, 3, 3])]).toEqual([1, 1, 1]);
  });
});
