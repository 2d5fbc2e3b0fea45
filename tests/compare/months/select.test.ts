import { describe, expect, it } from "vitest";
import type { Counts } from "../../../src/result/counts-schema.js";
import { selectEarlier } from "../../../src/compare/months/select.js";
import { month } from "./example-counts.js";

const FROM_MAY = Date.UTC(2026, 4, 1);
const labels = (counts: readonly Counts[]): string[] => counts.map((one) => one.period.label);

describe("earlier results that take part", () => {
  it("are those of the same site that ended before, oldest first", () => {
    const { used, leftOut } = selectEarlier([month(4), month(2), month(7), month(3, { site: "Otter Cottage" })], "Heron Lane", FROM_MAY);
    expect(labels(used)).toEqual(["2026-02", "2026-04"]);
    expect(leftOut).toEqual([]);
  });

  it("never count a stretch of time twice: of two that overlap, the later and finer is used, and the other named", () => {
    const spring: Counts = { ...month(3), period: { from: Date.parse("2026-03-01T00:00:00.000Z"), to: month(4).period.to, days: 60, label: "spring" } };
    const { used, leftOut } = selectEarlier([spring, month(3), month(4)], "Heron Lane", FROM_MAY);
    expect(labels(used)).toEqual(["2026-03", "2026-04"]);
    expect(leftOut).toEqual([
      { what: "the result for spring (2026-03-01T00:00:00.000Z to 2026-05-01T00:00:00.000Z)", why: "it covers time that the result for 2026-04 (2026-04-01T00:00:00.000Z to 2026-05-01T00:00:00.000Z) covers too" },
    ]);
  });

  it("do not reach into the period of the audit, and a result that is being replaced is none", () => {
    const long: Counts = { ...month(4), period: { ...month(4).period, to: Date.parse("2026-05-02T00:00:00.000Z") } };
    const { used, leftOut } = selectEarlier([long, month(5)], "Heron Lane", FROM_MAY);
    expect(used).toEqual([]);
    expect(leftOut.map(({ why }) => why)).toEqual(["it reaches into the period of this audit"]);
  });
});
