import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { refittedShape, shapeFitter } from "../../../src/compare/fleets/shape-fit.js";

describe("the spread fitted to all units but a group", () => {
  const unit = fc.record({ count: fc.oneof(fc.integer({ min: 0, max: 6 }), fc.integer({ min: 0, max: 400 })), exposure: fc.oneof(fc.constant(2), fc.double({ min: 0, max: 40, noNaN: true })) });

  it("is the one found by fitting every unit anew, whatever the group, the rate and those left out", () => {
    fc.assert(
      fc.property(fc.array(unit, { minLength: 4, maxLength: 60 }), fc.double({ min: 0.05, max: 4, noNaN: true }), fc.array(fc.nat(59), { maxLength: 9 }), fc.double({ min: 0.3, max: 3, noNaN: true }), (units, rate, some, times) => {
        const leftOut = new Set(some.slice(0, 3).filter((index) => index < units.length));
        const fit = shapeFitter(units, rate, leftOut);
        const groups = [[], ...units.map((_, index) => [index]), [...new Set(some.slice(3).filter((index) => index < units.length))]];
        for (const group of groups) {
          for (const fellowsRate of [rate, rate * (1 + (times - 1) / 50), rate * times, 0.999 * rate]) {
            expect(fit(group, fellowsRate)).toBe(refittedShape(units, fellowsRate, new Set([...leftOut, ...group])));
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it("takes units for alike where nothing was counted", () => {
    const none = Array.from({ length: 8 }, () => ({ count: 0, exposure: 3 }));
    expect(shapeFitter(none, 0, new Set())([1], 0)).toBe(refittedShape(none, 0, new Set([1])));
  });
});
