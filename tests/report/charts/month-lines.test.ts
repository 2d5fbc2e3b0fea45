import { describe, expect, it } from "vitest";
import { monthClockLines, monthLines, shownClocks, shownSeries } from "../../../src/report/charts/month-lines.js";
import { drawSheet, type Shape } from "../../../src/report/charts/sheet.js";
import { exampleMonths } from "../example-months.js";

const { series, changes, clocks } = exampleMonths;
const marks = (shape: Shape): number =>
  monthLines(series, changes, "wide").layers.reduce((count, layer) => (layer.mark === "point" && layer.shape === shape ? count + layer.rows.length : count), 0);

describe("small lines over the months", () => {
  it("have a point a period that has a value, and a diamond where the figure changed beyond chance", () => {
    const told = series.flatMap(({ points }) => points.flatMap(({ missedShare, phantomsPer30Days, knownShare, occupiedMetres }) => [missedShare.value, phantomsPer30Days.value, knownShare, occupiedMetres.value])).filter((value) => value !== null);
    expect(marks("diamond")).toBe(2);
    expect(marks("circle") + marks("diamond")).toBe(told.length);
  });

  it("are broken where a period has no value, not drawn across it", () => {
    const { layers } = monthLines([series[1]!], [], "wide");
    expect(layers.flatMap((layer) => (layer.mark === "rule" ? layer.rows : []))).toHaveLength(3);
  });

  it("write this period's number, and none where there is none", () => {
    const svg = drawSheet(monthLines(series, changes, "narrow"), "a");
    for (const text of ["visits missed", "phantoms", "time known", "moved, cm", "0.15", "0.97", "+20", "none"]) expect(svg).toContain(`>${text}<`);
  });

  it("leave out the readings where no signal has any", () => {
    expect(drawSheet(monthLines([series[1]!], [], "wide"), "a")).not.toContain("moved, cm");
  });

  it("show clocks by pairs of sources, with the sign at the number", () => {
    const svg = drawSheet(monthClockLines(clocks, changes, "narrow"), "a");
    for (const text of ["mat-log against board-log", "later by, s", "+91", "+0.02"]) expect(svg).toContain(`>${text}<`);
    const silent = { first: "a", second: "b", points: [{ label: "2026-10", offsetSeconds: { value: null, low: null, high: null }, driftSecondsPerDay: { value: null, low: null, high: null } }] };
    const steady = { ...clocks[0]!, first: "hub" };
    expect(shownClocks({ ...exampleMonths, clocks: [silent, steady, ...clocks] }, 1)).toEqual(clocks);
  });

  it("show those that changed, where there are too many", () => {
    const many = [...Array.from({ length: 9 }, (_, index) => ({ ...series[1]!, signal: `signal-${index}` })), series[0]!];
    expect(shownSeries({ ...exampleMonths, series: many }, 3).map(({ signal }) => signal)).toEqual(["signal-0", "signal-1", "bay-1-wall"]);
    expect(shownSeries(exampleMonths, 3)).toEqual(series);
  });
});
