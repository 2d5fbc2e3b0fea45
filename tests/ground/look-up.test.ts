import { expect, test } from "vitest";
import { lookUp } from "../../src/ground/look-up.js";

const shelves = new Map([["hammer", 3], ["saw", 0]]);

test("what stands under a key is found, a zero too", () => {
  expect(lookUp(shelves, "hammer")).toBe(3);
  expect(lookUp(shelves, "saw")).toBe(0);
});

test("a key that is not there is an error that names it", () => {
  expect(() => lookUp(shelves, "plane")).toThrow(new RangeError("There is no plane."));
});
