import fc from "fast-check";
import { expect, test } from "vitest";
import { adjustPValues } from "../../src/statistics/benjamini-hochberg.js";

const anyPValues = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 30 });

test("one p-value needs no adjustment; none need none", () => {
  expect(adjustPValues([0.03])).toEqual([0.03]);
  expect(adjustPValues([])).toEqual([]);
});

test("the order given is the order returned", () => {
  const adjusted = adjustPValues([0.04, 0.01, 0.9]);
  [0.06, 0.03, 0.9].forEach((expected, i) => expect(adjusted[i]).toBeCloseTo(expected, 12));
});

test("alarms at q are those of the step-up rule: the largest i with p(i) ≤ i·q/m, and all below", () => {
  fc.assert(
    fc.property(anyPValues, fc.double({ min: 0.001, max: 0.5, noNaN: true }), (p, q) => {
      const sorted = p.toSorted((a, b) => a - b);
      const last = sorted.findLastIndex((value, i) => value * (p.length / (i + 1)) <= q);
      const byRule = p.map((value) => last >= 0 && value <= sorted[last]!);
      expect(adjustPValues(p).map((value) => value <= q)).toEqual(byRule);
    }),
    { numRuns: 500 },
  );
});

test("never below what was given, never above 1, and in the same order", () => {
  fc.assert(
    fc.property(anyPValues, (p) => {
      const adjusted = adjustPValues(p);
      p.forEach((value, i) => {
        expect(adjusted[i]).toBeGreaterThanOrEqual(value);
        expect(adjusted[i]).toBeLessThanOrEqual(1);
        p.forEach((other, j) => {
          if (value <= other) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j]!);
        });
      });
    }),
  );
});

test("refuses what is no p-value", () => {
  expect(() => adjustPValues([0.2, 1.2])).toThrow(new RangeError("A p-value lies in 0 to 1, not 1.2."));
  expect(() => adjustPValues([-0.1])).toThrow(new RangeError("A p-value lies in 0 to 1, not -0.1."));
  expect(() => adjustPValues([NaN])).toThrow(RangeError);
});
