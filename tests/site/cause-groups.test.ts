import { expect, test } from "vitest";
import { causeGroups, connectedTo } from "../../src/site/cause-groups.js";

const signals = [
  { id: "meter", shares: ["board-a"] },
  { id: "rail", shares: ["board-a", "supply"] },
  { id: "hinge", shares: ["supply", "hub"] },
  { id: "phone", shares: ["hub"] },
  { id: "mat", shares: [] },
];

test("signals connected through a chain of causes are one group, though the ends name no cause in common", () => {
  const groups = causeGroups(signals);
  expect(groups.get("meter")).toBe(groups.get("phone"));
  expect(groups.get("mat")).not.toBe(groups.get("meter"));
});

test("a pair seen to belong together joins the groups of both", () => {
  expect(connectedTo(["mat"], causeGroups(signals))).toEqual(["mat"]);
  expect(new Set(connectedTo(["mat"], causeGroups(signals, [["mat", "phone"]])))).toEqual(new Set(["meter", "rail", "hinge", "phone", "mat"]));
});

test("what is connected to a rule's signals includes them", () => {
  expect(connectedTo(["phone"], causeGroups(signals)).toSorted()).toEqual(["hinge", "meter", "phone", "rail"]);
});
