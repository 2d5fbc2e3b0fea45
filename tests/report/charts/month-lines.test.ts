import { describe, expect, it } from "vitest";
import { draw } from "../../../src/report/charts/draw.js";
import { monthLines, shownSeries } from "../../../src/report/charts/month-lines.js";
import { exampleMonths } from "../example-months.js";

const { series, changes } = exampleMonths;
interface Layers {
  readonly layer: readonly { readonly mark: { readonly type: string; readonly shape?: string }; readonly data: { readonly values: readonly unknown[] } }[];
}
const marks = (shape: string): number =>
  (monthLines(series, changes, "wide") as unknown as Layers).layer.filter(({ mark }) => mark.type === "point" && mark.shape === shape).reduce((sum, { data }) => sum + data.values.length, 0);

describe("small lines over the months", () => {
  it("have a point a period that has a value, and a diamond where the figure changed beyond chance", () => {
    const told = series.flatMap(({ points }) => points.flatMap(({ missedShare, phantomsPer30Days, knownShare }) => [missedShare.value, phantomsPer30Days.value, knownShare])).filter((value) => value !== null);
    expect(marks("diamond")).toBe(1);
    expect(marks("circle") + marks("diamond")).toBe(told.length);
  });

  it("are broken where a period has no value, not drawn across it", () => {
    const { layer } = monthLines([series[1]!], [], "wide") as unknown as { layer: { mark: { type: string }; data: { values: { y: number; y2: number }[] } }[] };
    expect(layer.filter(({ mark }) => mark.type === "rule").flatMap(({ data }) => data.values)).toHaveLength(3);
  });

  it("write this period's number, and none where there is none", async () => {
    const svg = await draw(monthLines(series, changes, "narrow"), "a");
    for (const text of ["visits missed", "phantoms", "time known", "0.15", "0.97", "none"]) expect(svg).toContain(`>${text}<`);
  });

  it("show those that changed, where there are too many", () => {
    const many = [...Array.from({ length: 9 }, (_, index) => ({ ...series[1]!, signal: `signal-${index}` })), series[0]!];
    expect(shownSeries({ ...exampleMonths, series: many }, 3).map(({ signal }) => signal)).toEqual(["signal-0", "signal-1", "bay-1-wall"]);
    expect(shownSeries(exampleMonths, 3)).toEqual(series);
  });
});
