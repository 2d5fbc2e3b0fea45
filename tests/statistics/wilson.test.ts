import fc from "fast-check";
import { expect, test } from "vitest";
import { normalDeviate } from "../../src/statistics/distributions.js";
import { wilsonEstimate } from "../../src/statistics/wilson.js";

const anyShare = fc.double({ min: 0, max: 1, noNaN: true });
const anyLooks = fc.double({ min: 0.5, max: 5000, noNaN: true });

test("without a look there is no value", () => {
  expect(wilsonEstimate(0.5, 0, 0.95)).toEqual({ value: null, low: null, high: null, count: 0, unit: "share", why: "nothing was seen" });
});

test("looks need not be whole", () => {
  const { value, low, high, count } = wilsonEstimate(0.9, 12.5, 0.95);
  expect([value, count]).toEqual([0.9, 12.5]);
  expect(low).toBeGreaterThan(wilsonEstimate(0.9, 12, 0.95).low!);
  expect(high).toBeLessThan(wilsonEstimate(0.9, 12, 0.95).high!);
});

test("never leaves 0 to 1, and always holds the share itself", () => {
  fc.assert(
    fc.property(anyShare, anyLooks, (share, looks) => {
      const { low, high } = wilsonEstimate(share, looks, 0.95);
      expect(low).toBeGreaterThanOrEqual(0);
      expect(low).toBeLessThanOrEqual(share);
      expect(high).toBeGreaterThanOrEqual(share);
      expect(high).toBeLessThanOrEqual(1);
    }),
  );
  expect(wilsonEstimate(0, 7, 0.95).low).toBe(0);
  expect(wilsonEstimate(1, 7, 0.95).high).toBe(1);
});

test("its limits are the shares from which what was seen lies exactly z standard errors away", () => {
  const z = normalDeviate(0.95);
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 0.99, noNaN: true }), anyLooks, (share, looks) => {
      const { low, high } = wilsonEstimate(share, looks, 0.95);
      for (const limit of [low!, high!]) {
        expect(Math.abs(share - limit)).toBeCloseTo(z * Math.sqrt((limit * (1 - limit)) / looks), 9);
      }
    }),
  );
});

test("refuses what is no share and no number of looks", () => {
  expect(() => wilsonEstimate(1.1, 5, 0.95)).toThrow(new RangeError("A share lies in 0 to 1, not 1.1."));
  expect(() => wilsonEstimate(NaN, 5, 0.95)).toThrow(RangeError);
  expect(() => wilsonEstimate(0.5, -1, 0.95)).toThrow(RangeError);
  expect(() => wilsonEstimate(0.5, 5, 1)).toThrow(RangeError);
});
