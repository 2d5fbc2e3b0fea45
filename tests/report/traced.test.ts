import { describe, expect, it } from "vitest";
import { rowsAt, tracedAt, whole } from "../../src/report/traced.js";

const result = whole({
  bays: [{ name: "bay-1", visits: [{ hours: 1 }, { hours: 2 }] }, { name: "bay-2", visits: [{ hours: 3 }] }],
  diary: { entries: 4 },
  past: null as { months: { label: string }[] } | null,
});

describe("a piece of the result", () => {
  it("knows the path it stands at, from the whole and from a piece below it", () => {
    const [, second] = rowsAt(result, "bays");
    expect(second).toMatchObject({ from: "bays.1", index: 1, of: { name: "bay-2" } });
    expect(rowsAt(second!, "visits")).toMatchObject([{ from: "bays.1.visits.0", of: { hours: 3 } }]);
    expect(tracedAt(result, "diary")).toEqual({ of: { entries: 4 }, from: "diary", index: 0 });
  });

  it("is an entry of every list that a * stands for, with the entry whose list it is in", () => {
    const rows = rowsAt(result, "bays.*.visits");
    expect(rows.map(({ from, index, of, above }) => [from, index, of.hours, above.from, above.of.name])).toEqual([
      ["bays.0.visits.0", 0, 1, "bays.0", "bay-1"],
      ["bays.0.visits.1", 1, 2, "bays.0", "bay-1"],
      ["bays.1.visits.0", 0, 3, "bays.1", "bay-2"],
    ]);
  });

  it("is not there below a null", () => {
    expect(tracedAt(result, "past")).toBeNull();
    expect(rowsAt(result, "past.months")).toEqual([]);
  });
});
