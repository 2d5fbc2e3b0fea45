import { describe, expect, test } from "vitest";
import { distinctAudits, overlappingAudits } from "../../../src/compare/fleets/audits.js";
import type { Counts } from "../../../src/result/counts-schema.js";
import { month } from "../months/example-counts.js";

const span = (from: Date | number, to: Date | number, site = "Heron Lane"): Counts => ({
  ...month(3, { site }),
  period: { ...month(3).period, from: Number(from), to: Number(to) },
});
const labels = (pairs: readonly (readonly [Counts, Counts])[]): number[][] => pairs.map((pair) => pair.map(({ period }) => period.from));

describe("audits of one site", () => {
  test("may touch, and overlap by no instant", () => {
    expect(overlappingAudits([span(10, 20), span(0, 10)])).toEqual([]);
    expect(labels(overlappingAudits([span(9, 20), span(0, 10)]))).toEqual([[0, 9]]);
    expect(overlappingAudits([span(9, 20), span(0, 10, "Otter Cottage")])).toEqual([]);
  });

  test("are held against the one that reaches furthest, not the one before", () => {
    expect(labels(overlappingAudits([span(0, 100), span(10, 20), span(30, 40)]))).toEqual([[0, 10], [0, 30]]);
  });

  test("count once if they differ only in their making, in the order of site and time", () => {
    const again = { ...span(0, 10), made: { at: 99, by: "another machine" } };
    const found = distinctAudits([span(10, 20), span(5, 6, "Alder Court"), span(0, 10), again]);
    expect(found.map(({ counts }) => [counts.site.name, counts.period.from])).toEqual([["Alder Court", 5], ["Heron Lane", 0], ["Heron Lane", 10]]);
    expect(new Set(found.map(({ digest }) => digest)).size).toBe(3);
    expect(found[0]!.digest).toMatch(/^[0-9a-f]{16}$/);
  });
});
