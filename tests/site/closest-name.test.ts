import { expect, it } from "vitest";
import { closestName, editDistance } from "../../src/site/closest-name.js";

it.each([["", "", 0], ["door", "door", 0], ["door", "doors", 1], ["settle", "setle", 1], ["bay", "bya", 1], ["kitten", "sitting", 3], ["ca", "abc", 3]])(
  "%j and %j are %d edits apart",
  (a, b, distance) => {
    expect(editDistance(a, b)).toBe(distance);
    expect(editDistance(b, a)).toBe(distance);
  },
);

it.each([
  ["setle", ["kind", "settle"], "settle"],
  ["Settle", ["settle"], "settle"],
  ["phone-mria", ["phone-mira", "phone-tom"], "phone-mira"],
  ["inch", ["in", "m"], null],
  ["m", ["s"], null],
  ["entirely-different", ["bay-1"], null],
  ["x".repeat(101), ["x".repeat(100)], null],
  ["bay-1", [], null],
])("takes %j among %j for %j", (written, known, meant) => expect(closestName(written, known)).toBe(meant));
