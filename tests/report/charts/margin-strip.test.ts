import { describe, expect, it } from "vitest";
import { marginRows, marginStrip } from "../../../src/report/charts/margin-strip.js";
import { drawSheet } from "../../../src/report/charts/sheet.js";

describe("the rows of a margin strip", () => {
  it("always hold 0 and 1, and else only margins at which time was spent", () => {
    expect(marginRows([[3, 12]])).toEqual([
      { label: "condition held", hours: 0, closeness: "held" },
      { label: "1 away", hours: 0, closeness: "one" },
      { label: "3 away", hours: 12, closeness: "more" },
    ]);
  });

  it("put far margins together and out of reach last, and lose no hour", () => {
    const rows = marginRows([[0, 1], [1, 2], [7, 3], [8, 4], [12, 5], [40, 6], [null, 7]]);
    expect(rows.map(({ label, hours }) => [label, hours])).toEqual([["condition held", 1], ["1 away", 2], ["7 away", 3], ["8 or more", 15], ["out of reach", 7]]);
  });
});

describe("a margin strip", () => {
  it("says each margin's time in words, and that there was none", () => {
    const svg = drawSheet(marginStrip([[1, 1.5], [null, 400]], "narrow"), "a");
    for (const words of ["condition held", "never", "1 away", "1 h 30 min", "out of reach", "16 days 16 h"]) expect(svg).toContain(`>${words}<`);
  });

  it("tells one signal away from further by its dashes, not by colour alone", () => {
    const svg = drawSheet(marginStrip([[0, 2], [1, 2], [2, 2]], "wide"), "a");
    expect(svg.match(/stroke-dasharray="5,2"/g)).toHaveLength(1);
  });

  it("draws seconds so that they can be seen beside weeks, inside the chart", () => {
    const { layers, width } = marginStrip([[1, 0.003], [2, 700]], "narrow");
    const bars = layers.flatMap((layer) => (layer.mark === "rect" ? layer.rows : []));
    expect(bars).toHaveLength(2);
    for (const { x, x2 } of bars) {
      expect(x2 - x).toBeGreaterThanOrEqual(2);
      expect(x2).toBeLessThan(width - 80);
    }
  });
});
