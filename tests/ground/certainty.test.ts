import { expect, test } from "vitest";
import { certaintyText } from "../../src/ground/certainty.js";

test("a confidence is said as how often it holds", () => {
  expect([0.9, 0.95, 0.975, 0.99, 0.999, 0.93].map(certaintyText)).toEqual(["9 times in 10", "19 times in 20", "39 times in 40", "99 times in 100", "999 times in 1000", "93 times in 100"]);
});
