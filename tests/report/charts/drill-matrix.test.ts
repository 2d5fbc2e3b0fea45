import { describe, expect, it } from "vitest";
import { draw } from "../../../src/report/charts/draw.js";
import { drillMatrix } from "../../../src/report/charts/drill-matrix.js";
import { chartWidthPx } from "../../../src/report/charts/theme.js";
import { exampleDrills } from "../example-trials.js";

interface Layers {
  readonly width: number;
  readonly layer: readonly { readonly mark: { readonly type: string; readonly shape?: string; readonly filled?: boolean }; readonly data: { readonly values: readonly { readonly count?: number }[] } }[];
}
const matrix = (drills = exampleDrills, breadth: "wide" | "narrow" = "wide"): Layers => drillMatrix(drills, breadth) as unknown as Layers;
const marks = (shape: string, filled: boolean): (number | undefined)[] => matrix().layer.filter(({ mark }) => mark.type === "point" && mark.shape === shape && mark.filled === filled).flatMap(({ data }) => data.values.map(({ count }) => count));

describe("the drill matrix", () => {
  it("tells wrong, unverified and missed apart by shape: full square, open square, triangle", () => {
    expect(marks("square", true)).toEqual([29, 9]);
    expect(marks("square", false)).toEqual([5, 4, 2]);
    expect(marks("triangle-up", false)).toEqual([79, 3, 79, 42]);
  });

  it("writes each number beside its mark where there is room, and a dash where a fault did nothing", async () => {
    const wide = await draw(drillMatrix(exampleDrills, "wide"), "a");
    for (const number of ["29", "79", "42", "–"]) expect(wide).toContain(`>${number}<`);
    expect(await draw(drillMatrix(exampleDrills, "narrow"), "a")).not.toContain(">79<");
  });

  it("fits a phone with every fault there is", () => {
    const faults = ["stuck on", "stuck off", "late by 1 min", "late by 5 min", "late by 15 min", "silent", "flapping", "restart"] as const;
    const all = faults.map((fault) => ({ ...exampleDrills[0]!, fault }));
    expect(matrix(all, "narrow").width).toBeLessThanOrEqual(chartWidthPx.narrow);
    expect(matrix(all, "wide").width).toBeLessThanOrEqual(chartWidthPx.wide);
  });
});
