import { describe, expect, it } from "vitest";
import { drillMatrix } from "../../../src/report/charts/drill-matrix.js";
import { drawSheet, type Shape, type Sheet } from "../../../src/report/charts/sheet.js";
import { chartWidthPx } from "../../../src/report/charts/theme.js";
import { exampleDrills } from "../example-trials.js";

const matrix = (drills = exampleDrills, breadth: "wide" | "narrow" = "wide"): Sheet => drillMatrix(drills, breadth);
const marks = (shape: Shape, filled: boolean): (number | undefined)[] =>
  matrix().layers.flatMap((layer) => (layer.mark === "point" && layer.shape === shape && (layer.look.fill !== undefined) === filled ? layer.rows.map((row) => (row as { count?: number }).count) : []));

describe("the drill matrix", () => {
  it("tells wrong, unverified and missed apart by shape: full square, open square, triangle", () => {
    expect(marks("square", true)).toEqual([29, 9]);
    expect(marks("square", false)).toEqual([5, 4, 2]);
    expect(marks("triangle-up", false)).toEqual([79, 3, 79, 42]);
  });

  it("writes each number beside its mark where there is room, and a dash where a fault did nothing", () => {
    const wide = drawSheet(drillMatrix(exampleDrills, "wide"), "a");
    for (const number of ["29", "79", "42", "–"]) expect(wide).toContain(`>${number}<`);
    expect(drawSheet(drillMatrix(exampleDrills, "narrow"), "a")).not.toContain(">79<");
  });

  it("fits a phone with every fault there is", () => {
    const faults = ["stuck on", "stuck off", "late by 1 min", "late by 5 min", "late by 15 min", "silent", "flapping", "restart"] as const;
    const all = faults.map((fault) => ({ ...exampleDrills[0]!, fault }));
    expect(matrix(all, "narrow").width).toBeLessThanOrEqual(chartWidthPx.narrow);
    expect(matrix(all, "wide").width).toBeLessThanOrEqual(chartWidthPx.wide);
  });
});
