import fc from "fast-check";
import { expect, test } from "vitest";
import { stableOrder } from "../../src/statistics/stable-order.js";

test("smaller values come first, and equal ones keep their order", () => {
  expect([...stableOrder(Float64Array.from([2.5, 1, 2.5, -3, 1]))]).toEqual([3, 1, 4, 0, 2]);
  expect([...stableOrder(new Float64Array(0))]).toEqual([]);
});

test("it is the order that a stable sort by comparison gives", () => {
  const few = fc.array(fc.oneof(fc.integer({ min: -3, max: 3 }).map((value) => value / 2), fc.double({ noNaN: true })), { maxLength: 60 });
  fc.assert(
    fc.property(few, (values) => {
      expect([...stableOrder(Float64Array.from(values))]).toEqual(values.map((_, i) => i).sort((a, b) => (values[a]! < values[b]! ? -1 : values[a]! > values[b]! ? 1 : 0)));
    }),
  );
});
