import fc from "fast-check";
import { expect, test } from "vitest";
import { firstAtOrAfter } from "../../src/timeline/first-at-or-after.js";

test("the first value at or after a limit, as a plain search finds it", () => {
  const values = fc.array(fc.integer({ min: 0, max: 20 })).map((list) => list.sort((a, b) => a - b));
  fc.assert(
    fc.property(values, fc.integer({ min: -1, max: 21 }), (list, limit) => {
      const plain = list.findIndex((value) => value >= limit);
      expect(firstAtOrAfter(list, limit)).toBe(plain === -1 ? list.length : plain);
    }),
  );
});
