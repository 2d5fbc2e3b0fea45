import fc from "fast-check";
import { expect, test } from "vitest";
import { firstAtOrAfter, firstWhere } from "../../src/ground/search.js";

test("the first value at or after a limit, as a plain search finds it", () => {
  const values = fc.array(fc.integer({ min: 0, max: 20 })).map((list) => list.sort((a, b) => a - b));
  fc.assert(
    fc.property(values, fc.integer({ min: -1, max: 21 }), (list, limit) => {
      const plain = list.findIndex((value) => value >= limit);
      expect(firstAtOrAfter(list, limit)).toBe(plain === -1 ? list.length : plain);
    }),
  );
});

test("the first place for which a question that turns true once is true", () => {
  fc.assert(
    fc.property(fc.nat(30), fc.nat(30), (count, turnsAt) => {
      expect(firstWhere(count, (index) => index >= turnsAt)).toBe(Math.min(count, turnsAt));
    }),
  );
});
