import { describe, expect, it } from "vitest";
import type { Counts } from "../../../src/result/counts-schema.js";
import { judgedOn, selectEarlier } from "../../../src/compare/months/select.js";
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

  it("take the one made last of two for the same time, and may touch one another and the audit", () => {
    const again: Counts = { ...month(4), made: { at: month(4).made.at + 1, by: "later" } };
    const may: Counts = { ...month(4), period: { ...month(4).period, from: month(4).period.to, to: FROM_MAY + 86_400_000, label: "early May" } };
    const { used, leftOut } = selectEarlier([month(4), again, may], "Heron Lane", FROM_MAY + 86_400_000);
    expect(used.map(({ made, period }) => [period.label, made.by])).toEqual([["2026-04", "later"], ["early May", "test"]]);
    expect(leftOut).toHaveLength(1);
    expect(labels(selectEarlier([month(4)], "Heron Lane", month(4).period.to).used)).toEqual(["2026-04"]);
  });

  it("do not reach into the period of the audit, and a result that is being replaced is none", () => {
    const long: Counts = { ...month(4), period: { ...month(4).period, to: Date.parse("2026-05-02T00:00:00.000Z") } };
    const { used, leftOut } = selectEarlier([long, month(5)], "Heron Lane", FROM_MAY);
    expect(used).toEqual([]);
    expect(leftOut.map(({ why }) => why)).toEqual(["it reaches into the period of this audit"]);
  });
});

describe("what was judged on a history before", () => {
  const judged = [{ act: "unlock", digest: "aaaaaaaaaaaaaaaa", settings: 3 }] as const;
  const april: Counts = { ...month(4), judged: [...judged] };
  const on = (from: number, to: number, site = "Heron Lane") => judgedOn([april, month(3)], site, { from, to });

  it("is what audits of the same site kept that share any time with it", () => {
    const { from, to } = april.period;
    expect(on(from, to)).toEqual(judged);
    expect(on(to - 1, to + 1)).toEqual(judged);
    expect(on(to, to + 1)).toEqual([]);
    expect(on(from - 1, from)).toEqual([]);
    expect(on(from, to, "Otter Cottage")).toEqual([]);
  });
});
