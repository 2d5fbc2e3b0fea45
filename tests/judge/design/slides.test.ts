import fc from "fast-check";
import { expect, test } from "vitest";
import { coincidencesOnOtherDays, overlapByClock } from "../../../src/judge/design/slides.js";
import type { PartStretch } from "../../../src/result/design.js";
import { stretch } from "./histories.js";

/** The definition, pair by pair. */
function pairByPair(a: readonly PartStretch[], b: readonly PartStretch[]): number {
  return a.reduce((count, one) => count + b.filter((other) => one.day !== other.day && overlapByClock(one, other)).length, 0);
}

test("stretches of different days are counted where they would overlap on one day", () => {
  const meters = [stretch(0, "17:00", 600), stretch(1, "23:55", 600)];
  const phones = [stretch(0, "17:05", 60), stretch(2, "17:09", 60), stretch(3, "17:10", 60), stretch(4, "00:04", 60)];
  // 17:05 is of the same day, and 17:10 begins as the meter's stretch ends; the one of 23:55 lasts until 0:05.
  expect(coincidencesOnOtherDays(meters, phones)).toBe(2);
});

test("the count is that of all pairs, equal times, midnight and days without end included", () => {
  const times = fc.constantFrom(0, 0.001, 60, 43_199.999, 43_200, 86_399, 86_399.999);
  const lengths = fc.constantFrom(0, 0.001, 60, 600, 43_200, 43_200.5, 86_400, 100_000);
  const stretches = fc.array(
    fc.record({ day: fc.nat({ max: 3 }), at: fc.oneof(times, fc.integer({ min: 0, max: 86_399 })), seconds: fc.oneof(lengths, fc.nat({ max: 20_000 })), explained: fc.constant(false) }),
    { maxLength: 25 },
  );
  fc.assert(fc.property(stretches, stretches, (a, b) => coincidencesOnOtherDays(a, b) === pairByPair(a, b)));
});
