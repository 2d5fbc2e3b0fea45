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
