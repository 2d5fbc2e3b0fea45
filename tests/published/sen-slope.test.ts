/**
 * The slope of Theil and Sen on the example of Sen (1968), as a public statistics library (SciPy) tests it:
 * slope 4, interval 3.71 to 4.38 at a confidence of 0.93. All (M), from memory; neither the paper nor the library's test was seen.
 */
import { expect, test } from "vitest";
import { slopeEstimate } from "../../src/statistics/theil-sen.js";

test("slope and interval (M)", () => {
  const slope = slopeEstimate([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78], 0.93, "");
  expect(slope.value).toBe(4);
  expect(slope.low!.toFixed(2)).toBe("3.71");
  expect(slope.high!.toFixed(2)).toBe("4.38");
});
