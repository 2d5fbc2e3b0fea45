import { expect, test } from "vitest";
import { rankShift } from "../../src/statistics/rank-shift.js";

test("a shift is found where it is", () => {
  const values = [1, 2, 1.5, 1.2, 1.9, 1.1, 1.4, 8, 9, 8.5, 8.2, 9.1, 8.8];
  expect(rankShift(values, "up")).toMatchObject({ at: 7 });
  expect(rankShift(values, "up")!.pValue).toBeLessThan(0.005);
});

test("one-sided, a fall is no rise", () => {
  const falling = [9, 8, 9.5, 8.5, 9.2, 1, 2, 1.5, 1.2, 1.9];
  expect(rankShift(falling, "up")).toBeNull();
  expect(rankShift(falling, "either")).toMatchObject({ at: 5 });
});

test("equal values, and too few, shift nowhere", () => {
  expect(rankShift([3, 3, 3, 3], "either")).toBeNull();
  expect(rankShift([1], "either")).toBeNull();
});

test("the same values give the same answer", () => {
  const values = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5];
  expect(rankShift(values, "either")).toEqual(rankShift(values, "either"));
});

/** All orders of a few values. */
function orders(values: readonly number[]): number[][] {
  return values.length === 0 ? [[]] : values.flatMap((one, i) => orders(values.toSpliced(i, 1)).map((rest) => [one, ...rest]));
}

/** How far the mean ranks before and after a cut lie apart, as a sum: by definition, place by place. */
function reachOf(values: readonly number[], side: "up" | "either"): { at: number; reach: number } {
  const rank = (value: number): number => (values.filter((one) => one < value).length + values.filter((one) => one <= value).length + 1) / 2;
  const cuts = values.slice(1).map((_, i) => {
    const below = -values.slice(0, i + 1).reduce((sum, one) => sum + rank(one) - (values.length + 1) / 2, 0);
    return side === "up" ? below : Math.abs(below);
  });
  const reach = Math.max(...cuts);
  return { at: cuts.indexOf(reach) + 1, reach };
}

test.each([
  [[1, 2, 2, 5, 3, 6, 7], "up"],
  [[4, 1, 3, 3, 2, 6, 5], "up"],
  [[7, 5, 6, 2, 3, 1, 1], "either"],
  [[3, 1, 2, 3, 1, 2], "either"],
] as const)("its place is that of the largest sum, and its p-value the share of all orders that reach as far: %j, %s", (values, side) => {
  const seen = reachOf(values, side);
  const all = orders(values);
  const share = all.filter((order) => reachOf(order, side).reach >= seen.reach).length / all.length;
  const { at, pValue } = rankShift(values, side)!;
  expect(at).toBe(seen.at);
  // Stopped at the twentieth order as extreme, or after 9999: good to about a fifth of itself.
  expect(Math.abs(Math.log(pValue / share))).toBeLessThan(0.7);
});

test("its p-value is never 0: with no order as extreme among 9999 it is one in ten thousand", () => {
  const values = Array.from({ length: 40 }, (_, i) => i);
  expect(rankShift(values, "up")).toEqual({ at: 20, pValue: 1 / 10_000 });
});

test("its p-value is the same in every version, so that a report can be made again", () => {
  expect(rankShift([3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5], "either")!.pValue).toBe(20 / 124);
});

test("when nothing changes, a p-value below 0.05 is met about one time in twenty", () => {
  let seed = 12_345;
  const next = (): number => (seed = (seed * 48_271) % 2_147_483_647) / 2_147_483_647;
  let alarms = 0;
  for (let run = 0; run < 600; run += 1) {
    // Skewed, with many equal values, as hours of silence are.
    const days = Array.from({ length: 30 }, () => (next() < 0.6 ? 0 : -Math.log(next())));
    const shift = rankShift(days, "up");
    if (shift !== null && shift.pValue <= 0.05) alarms += 1;
  }
  expect(alarms / 600).toBeGreaterThan(0.025);
  expect(alarms / 600).toBeLessThan(0.08);
});
