import { describe, expect, it } from "vitest";
import { draw } from "../../../src/report/charts/draw.js";
import { monthClockLines, monthLines, shownClocks, shownSeries } from "../../../src/report/charts/month-lines.js";
import { exampleMonths } from "../example-months.js";

const { series, changes, clocks } = exampleMonths;
interface Layers {
  readonly layer: readonly { readonly mark: { readonly type: string; readonly shape?: string }; readonly data: { readonly values: readonly unknown[] } }[];
}
const marks = (shape: string): number =>
  (monthLines(series, changes, "wide") as unknown as Layers).layer.filter(({ mark }) => mark.type === "point" && mark.shape === shape).reduce((sum, { data }) => sum + data.values.length, 0);

describe("small lines over the months", () => {
  it("have a point a period that has a value, and a diamond where the figure changed beyond chance", () => {
    const told = series.flatMap(({ points }) => points.flatMap(({ missedShare, phantomsPer30Days, knownShare, occupiedMetres }) => [missedShare.value, phantomsPer30Days.value, knownShare, occupiedMetres.value])).filter((value) => value !== null);
    expect(marks("diamond")).toBe(2);
    expect(marks("circle") + marks("diamond")).toBe(told.length);
  });

  it("are broken where a period has no value, not drawn across it", () => {
    const { layer } = monthLines([series[1]!], [], "wide") as unknown as { layer: { mark: { type: string }; data: { values: { y: number; y2: number }[] } }[] };
    expect(layer.filter(({ mark }) => mark.type === "rule").flatMap(({ data }) => data.values)).toHaveLength(3);
  });

  it("write this period's number, and none where there is none", async () => {
    const svg = await draw(monthLines(series, changes, "narrow"), "a");
    for (const text of ["visits missed", "phantoms", "time known", "moved, cm", "0.15", "0.97", "+20", "none"]) expect(svg).toContain(`>${text}<`);
  });

  it("leave out the readings where no signal has any", async () => {
    expect(await draw(monthLines([series[1]!], [], "wide"), "a")).not.toContain("moved, cm");
  });

  it("show clocks by pairs of sources, with the sign at the number", async () => {
    const svg = await draw(monthClockLines(clocks, changes, "narrow"), "a");
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
