import { expect, it } from "vitest";
import { closestName } from "../../src/site/closest-name.js";

it.each([
  ["an insertion", "bay", "bays", true],
  ["a deletion", "bays", "bay", true],
  ["a replacement", "bay", "day", true],
  ["a swap of neighbours", "bay", "bya", true],
  ["two replacements", "bay", "dab", false],
  ["three edits of a long name", "kitten-on-top", "sitting-on-top", true],
  ["four edits of a long name", "kitten-on-top", "sitting-on-tops", false],
  // A swap and an insertion between the two would do with two edits; no letter is edited twice.
  ["a swap whose letters are then parted", "ca-doors", "abc-doors", false],
])("takes %s for a slip, or not: %j for %j, %j", (_, written, name, isSlip) => {
  expect(closestName(written, [name])).toBe(isSlip ? name : null);
});

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
