import fc from "fast-check";
import { parse, View } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";
import { describe, expect, it } from "vitest";
import { makeChartShapes, type ChartShapes } from "../../../src/report/charts/chart-shapes.js";
import { compiledChart } from "../../../src/report/charts/compiled-chart.js";
import { draw } from "../../../src/report/charts/draw.js";

type Row = { readonly name: string; readonly value: number };

/** A chart with an axis of names, one of numbers, and a table of its own for the marks; `unused` is a table no layer reads. */
const bars = (rows: readonly Row[], height: number, most = 10, color = "black"): TopLevelSpec => ({
  width: 100,
  height,
  data: { values: [{ name: "unused", value: 1 }] },
  layer: [
    { data: { values: rows.map((row) => ({ ...row })) }, mark: { type: "bar", color }, encoding: { x: { field: "value", type: "quantitative", scale: { domain: [0, most] } }, y: { field: "name", type: "nominal" } } },
    { data: { values: rows.slice(0, 1).map((row) => ({ ...row })) }, mark: "text", encoding: { x: { field: "value", type: "quantitative" }, y: { field: "name", type: "nominal" }, text: { field: "name", type: "nominal" } } },
  ],
});
const twoRows = [{ name: "north", value: 1 }, { name: "south", value: 2 }];

/** What vega makes of the specification as it is, rows inside, and its ids counted from nought. */
async function drawnWhole(specification: TopLevelSpec): Promise<string> {
  const svg = await new View(parse(compile(specification).spec), { renderer: "none" }).toSVG();
  return withoutIds(svg);
}

async function drawnByShape(specification: TopLevelSpec, shapes: ChartShapes): Promise<string> {
  const { runtime, tables, height } = compiledChart(specification, shapes);
  const view = new View(runtime, { renderer: "none" });
  for (const [name, rows] of tables) view.data(name, [...rows]);
  return withoutIds(await (height === null ? view : view.height(height)).toSVG());
}

const withoutIds = (svg: string): string => svg.replace(/clip\d+/g, "clip");

describe("a chart compiled once for all of its shape", () => {
  it("is compiled once, whatever its rows and height", () => {
    const shapes = makeChartShapes();
    const first = compiledChart(bars(twoRows, 40), shapes);
    const second = compiledChart(bars([{ name: "east", value: 3 }], 90), shapes);
    expect(second.runtime).toBe(first.runtime);
    expect([first.height, second.height]).toEqual([40, 90]);
  });

  it("is compiled anew where anything else differs", () => {
    const shapes = makeChartShapes();
    const { runtime } = compiledChart(bars(twoRows, 40), shapes);
    expect(compiledChart(bars(twoRows, 40, 20), shapes).runtime).not.toBe(runtime);
    expect(compiledChart(bars(twoRows, 40, 10, "red"), shapes).runtime).not.toBe(runtime);
  });

  it("hands over the rows of the tables that are read, and no others", () => {
    const shapes = makeChartShapes();
    expect([...compiledChart(bars(twoRows, 40), shapes).tables.values()]).toEqual([twoRows, twoRows.slice(0, 1)]);
  });

  it("looks as if it had been compiled with its rows", async () => {
    const shapes = makeChartShapes();
    const row = fc.record({ name: fc.string({ minLength: 1, maxLength: 6 }), value: fc.double({ min: 0, max: 10, noNaN: true }) });
    const given = fc.tuple(fc.uniqueArray(row, { selector: ({ name }) => name, maxLength: 5 }), fc.integer({ min: 20, max: 300 }));
    await fc.assert(
      fc.asyncProperty(given, async ([rows, height]) => {
        expect(await drawnByShape(bars(rows, height), shapes)).toBe(await drawnWhole(bars(rows, height)));
      }),
      { numRuns: 40 },
    );
  });

  it("is drawn the same after many others, when it has been forgotten", async () => {
    const shapes = makeChartShapes();
    const before = await draw(bars(twoRows, 40), "a", shapes);
    const { runtime } = compiledChart(bars(twoRows, 40), shapes);
    for (let most = 100; most < 230; most++) compiledChart(bars(twoRows, 40, most), shapes);
    expect(compiledChart(bars(twoRows, 40), shapes).runtime).not.toBe(runtime);
    expect(await draw(bars(twoRows, 40), "a", shapes)).toBe(before);
  });
});
