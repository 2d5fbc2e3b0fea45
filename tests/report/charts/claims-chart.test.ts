import { describe, expect, it } from "vitest";
import { claimsChart, claimTicks } from "../../../src/report/charts/claims-chart.js";
import { drawSheet, type Sheet } from "../../../src/report/charts/sheet.js";
import { exampleRoads } from "../example-roads.js";

const { claims } = exampleRoads;
const labelled = ({ layers }: Sheet, ...labels: string[]): { x: number; y: number }[] =>
  labels.map((label) => layers.flatMap((layer) => (layer.mark === "text" ? layer.rows : [])).find((one) => one.label === label)!);

describe("the ticks of a chart of claims", () => {
  it("are powers of ten around all amounts, with 2 and 5 between where there are few", () => {
    expect(claimTicks([0.09, 126])).toEqual([0.01, 0.1, 1, 10, 100, 1000]);
    expect(claimTicks([0.4, 0.7])).toEqual([0.1, 0.2, 0.5, 1]);
    expect(claimTicks([1])).toEqual([1, 2, 5, 10]);
    expect(claimTicks([])).toEqual([1, 2, 5, 10]);
  });
});

describe("a chart of claims", () => {
  it("says every line in words and tells them apart without colour", () => {
    const svg = drawSheet(claimsChart({ claims, roads: ["design", "counting"], limit: 0.5 }, "narrow"), "a");
    for (const words of ["by design", "by counting", "limit 0.5", "now", "+3", "+24", "wrong a year, at most"]) expect(svg).toContain(`>${words}<`);
    expect(svg.match(/stroke-dasharray="6,3"/g)).toHaveLength(1);
    expect(svg.match(/stroke-dasharray="2,3"/g)).toHaveLength(1);
  });

  it("draws a smaller limit further down, and a decade as high as any other", () => {
    const chart = claimsChart({ claims, roads: ["design", "counting"], limit: null }, "wide");
    const [tenth, one, ten] = labelled(chart, "0.1", "1", "10");
    expect(tenth!.y - one!.y).toBeCloseTo(one!.y - ten!.y, 6);
    expect(tenth!.y).toBeGreaterThan(one!.y);
  });

  it("begins a line where its road first supports something", () => {
    const { layers } = claimsChart({ claims, roads: ["design"], limit: 0.5 }, "wide");
    const [line] = layers.flatMap((layer) => (layer.mark === "line" ? [layer.rows] : []));
    expect(line).toHaveLength(4);
    expect(line![0]!.x).toBeGreaterThan(48);
  });

  it("writes no label over another, where lines and limit end in one place", () => {
    const level = [{ moreMonths: 0, byCounting: 1, byDesign: 1.01 }, { moreMonths: 24, byCounting: 1, byDesign: 1.01 }];
    const chart = claimsChart({ claims: level, roads: ["counting", "design"], limit: 1 }, "narrow");
    const heights = labelled(chart, "by counting", "by design", "limit 1").map(({ y }) => y).toSorted((a, b) => a - b);
    expect(heights[1]! - heights[0]!).toBeGreaterThanOrEqual(14);
    expect(heights[2]! - heights[1]!).toBeGreaterThanOrEqual(14);
    expect(heights[2]!).toBeLessThan(chart.height);
  });
});
