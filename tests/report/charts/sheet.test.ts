import { describe, expect, it } from "vitest";
import { drawSheet, type Layer, type Shape, type Sheet } from "../../../src/report/charts/sheet.js";
import { hostileNames } from "../hostile-findings.js";

const sheet = (...layers: Layer[]): Sheet => ({ width: 200, height: 40, layers });
const text = (label: string): Sheet => sheet({ mark: "text", rows: [{ x: 5, y: 5, label }], look: { fill: "red" } });

describe("a sheet", () => {
  it.each(Object.entries(hostileNames))("keeps %s as text", (_, name) => {
    const bare = (svg: string): string => svg.replace(/>[^<]+</g, "><");
    expect(bare(drawSheet(text(name), "a"))).toBe(bare(drawSheet(text("y"), "a")));
  });

  it("has room around its layers", () => {
    const svg = drawSheet({ ...text("y"), margin: { side: 1, top: 2, bottom: 26 } }, "a");
    expect(svg).toContain('width="202" height="68" viewBox="0 0 202 68"');
    expect(svg).toContain('transform="translate(1,2)"');
  });

  it("leaves out layers without marks", () => {
    expect(drawSheet(sheet({ mark: "rule", rows: [], look: { stroke: "red" } }), "a")).not.toContain("red");
  });

  it("draws lines, boxes whichever way round, and one step line a run, to a tenth of a px", () => {
    const svg = drawSheet(
      sheet(
        { mark: "rule", rows: [{ x: 1.23456, x2: 3, y: 4, y2: 5 }], look: { stroke: "red" } },
        { mark: "rect", rows: [{ x: 9, x2: 3, y: 2, y2: 7 }], look: { fill: "red" } },
        { mark: "line", rows: [{ x: 0, y: 1, run: "a" }, { x: 4, y: 1, run: "a" }, { x: 4, y: 3, run: "a" }, { x: 6, y: 9, run: "b" }], look: { stroke: "red" } },
      ),
      "a",
    );
    expect(svg).toContain('d="M1.2,4L3,5"');
    expect(svg).toContain('d="M3,2h6v5h-6Z"');
    expect(svg).toContain('d="M0,1H4V1H4V3M6,9"');
  });

  it.each<[Shape, RegExp]>([
    ["circle", /M-5,0a5,5,0,1,1,10,0a5,5,0,1,1,-10,0Z/],
    ["diamond", /M-5,0l5,-5l5,5l-5,5Z/],
    ["square", /M-5,-5h10v10h-10Z/],
    ["triangle-up", /M0,-4.3l-5,8.6h10Z/],
    ["triangle-down", /M-5,-4.3h10l-5,8.6Z/],
  ])("outlines a %s", (shape, path) => {
    expect(drawSheet(sheet({ mark: "point", shape, rows: [{ x: 0, y: 0, size: 100 }], look: {} }), "a")).toMatch(path);
  });

  it("carries no style attribute, no class, no namespace", () => {
    expect(drawSheet(text("y"), "a")).not.toMatch(/ (?:style|class|xmlns[:a-z]*|role)=/);
  });
});
