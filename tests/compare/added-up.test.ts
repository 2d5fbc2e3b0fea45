import { describe, expect, test } from "vitest";
import { addedUp, groupTotals } from "../../src/compare/added-up.js";

const rows = [
  { site: "yard", bay: "b", vehicle: "old van", visits: 3, days: 0.1 },
  { site: "yard", bay: "a", vehicle: null, visits: 1, days: 0.7 },
  { site: "yard", bay: "b", vehicle: null, visits: 4, days: 0.2 },
  { site: "lane", bay: "b", vehicle: "cart", visits: 5, days: 30 },
];

describe("rows with equal keys", () => {
  test("become the last of them with the amounts of all, sorted by their keys", () => {
    expect(addedUp(rows, ["site", "bay"], ["visits", "days"])).toEqual([
      { site: "lane", bay: "b", vehicle: "cart", visits: 5, days: 30 },
      { site: "yard", bay: "a", vehicle: null, visits: 1, days: 0.7 },
      { site: "yard", bay: "b", vehicle: null, visits: 7, days: 0.1 + 0.2 },
    ]);
  });

  test("are told apart by a missing value too, and by text that looks like one", () => {
    const named = [null, "null", null].map((model, i) => ({ model, count: i + 1 }));
    expect(addedUp(named, ["model"], ["count"])).toEqual([{ model: "null", count: 2 }, { model: null, count: 4 }]);
  });

  test("are none without rows", () => {
    expect(addedUp([], [], [])).toEqual([]);
    expect(groupTotals([], "site", [])).toEqual([]);
  });
});

test("totals of a group stand at each of its rows, in the order of the rows, and change none of them", () => {
  const before = structuredClone(rows);
  expect(groupTotals(rows, "site", ["visits"])).toEqual([{ visits: 8 }, { visits: 8 }, { visits: 8 }, { visits: 5 }]);
  expect(rows).toEqual(before);
});
