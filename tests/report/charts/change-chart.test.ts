import { describe, expect, it } from "vitest";
import { type Change, changeChart } from "../../../src/report/charts/change-chart.js";
import { drawSheet, type Shape } from "../../../src/report/charts/sheet.js";
import { dayClock, localClock } from "../../../src/report/local-time.js";
import { exampleWitnesses } from "../example-witnesses.js";

const late: Change = exampleWitnesses.changes[0]!;
const clock = localClock("Europe/London");
const pointsOf = (change: Change, shape: Shape): number =>
  changeChart(change, clock, "wide")!.layers.reduce((count, layer) => (layer.mark === "point" && layer.shape === shape ? count + layer.rows.length : count), 0);

describe("a chart of what changed", () => {
  it("has a diamond for every day outside the limits and a dot for every other one", () => {
    const outside = late.points.filter(([, value]) => value < late.chart!.low || value > late.chart!.high).length;
    expect(outside).toBeGreaterThan(0);
    expect(pointsOf(late, "diamond")).toBe(outside);
    const wider = { ...late, chart: { ...late.chart!, high: 97, low: 31 } };
    expect(pointsOf(wider, "diamond")).toBeLessThan(outside);
    expect(pointsOf(wider, "diamond") + pointsOf(wider, "circle")).toBe(late.points.length);
  });

  it("names the day from which it was different, by the clock it is given", () => {
    expect(drawSheet(changeChart(late, clock, "wide")!, "a")).toContain("since Mon 19 Oct 2026");
    expect(drawSheet(changeChart(late, dayClock, "narrow")!, "a")).toMatch(/since day \d+</);
  });

  it("shows metres as centimetres", () => {
    const metres: Change = { ...late, unit: "metres", before: 1.28, after: 1.4, chart: { centre: 1.3, low: 1.25, high: 1.35, outside: 1, runs: 0 }, points: late.points.map(([day], index) => [day, index < 18 ? 1.28 : 1.4]) };
    const svg = drawSheet(changeChart(metres, clock, "wide")!, "a");
    expect(svg).toContain(">cm<");
    expect(svg).toContain(">140<");
  });

  it("is none where there are no limits or no days", () => {
    expect(changeChart({ ...late, chart: null }, clock, "wide")).toBeNull();
    expect(changeChart({ ...late, points: [] }, clock, "wide")).toBeNull();
  });

  it("stands the same value every day, and one day only", () => {
    const flat: Change = { ...late, before: 5, after: 5, chart: { centre: 5, low: 5, high: 5, outside: 0, runs: 0 }, points: [[late.points[0]![0], 5]] };
    expect(drawSheet(changeChart(flat, clock, "narrow")!, "a")).not.toMatch(/NaN|Infinity/);
  });
});
