import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { labelPlaces } from "../../../src/report/charts/label-places.js";

const room = { marks: [], width: 400, height: 200, top: 0 };

describe("places for labels", () => {
  it("are at the right of the mark, at its left where there is no room, with no line", () => {
    expect(labelPlaces([{ label: "bay-1", x: 50, y: 60 }], room)).toEqual([{ label: "bay-1", x: 59, y: 60, align: "left", lead: null }]);
    expect(labelPlaces([{ label: "bay-1", x: 390, y: 60 }], room)).toEqual([{ label: "bay-1", x: 381, y: 60, align: "right", lead: null }]);
  });

  it("are above or below with a line to the mark where another stands in the way", () => {
    const marks = [45, 60, 75].map((x) => ({ x, y: 60 }));
    const [place] = labelPlaces([{ label: "bay-1", x: 60, y: 60 }], { ...room, marks });
    expect(place).toMatchObject({ y: 45, lead: { x: 60, y: 60, y2: 45 } });
  });

  it("are none where there is no room at all", () => {
    expect(labelPlaces([{ label: "x".repeat(100), x: 50, y: 60 }], room)).toEqual([]);
  });

  it("never cover one another and never leave the picture", () => {
    const mark = fc.record({ label: fc.string({ minLength: 1, maxLength: 18 }), x: fc.integer({ min: 0, max: 400 }), y: fc.integer({ min: 0, max: 200 }) });
    fc.assert(
      fc.property(fc.array(mark, { maxLength: 12 }), (labels) => {
        const boxes = labelPlaces(labels, { ...room, marks: labels }).map(({ label, x, y, align }) => {
          const long = label.length * 7.44;
          return { x: align === "left" ? x : x - long, x2: align === "left" ? x + long : x, y: y - 7.5, y2: y + 7.5 };
        });
        for (const [index, a] of boxes.entries()) {
          expect(a.x >= -1e-6 && a.x2 <= 400 + 1e-6 && a.y2 <= 200).toBe(true);
          for (const b of boxes.slice(index + 1)) expect(a.x + 1e-6 < b.x2 && b.x + 1e-6 < a.x2 && a.y < b.y2 && b.y < a.y2).toBe(false);
        }
      }),
    );
  });
});
