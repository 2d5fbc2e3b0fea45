/**
 * Otsu's threshold on the test array of a public image library (scikit-image).
 * - Threshold 2: (S), seen in that library's tests. - Variances between the classes: (R), recomputed.
 * The paper, Otsu (1979), was not seen.
 */
import { expect, test } from "vitest";
import { otsuSplit } from "../../src/truth/bands/otsu.js";

const array = [[0, 0, 1, 3, 5], [0, 1, 4, 3, 4], [1, 2, 5, 4, 1], [2, 4, 5, 2, 1], [4, 5, 1, 0, 0]].flat();
const counts = [0, 1, 2, 3, 4, 5].map((value) => array.filter((each) => each === value).length);

test("the threshold is 2 (S)", () => {
  expect(otsuSplit(counts).last).toBe(2);
});

test("the variance between the classes, for thresholds 0 to 4 (R)", () => {
  expect(Array.from(otsuSplit(counts).betweenClassVariance, (each) => each.toFixed(4))).toEqual(["1.3456", "2.4742", "2.7236", "2.5387", "1.3681"]);
});
