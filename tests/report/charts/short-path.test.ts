import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shortPath } from "../../../src/report/charts/short-path.js";

/** The corners of a path, those that repeat the one before left out. */
function corners(d: string): string[] {
  const found: string[] = [];
  let [x, y] = [NaN, NaN];
  for (const [, command = "", numbers = ""] of d.matchAll(/([MLHVZ])([^MLHVZ]*)/g)) {
    if (command === "Z") found.push("Z");
    else {
      const [a = 0, b = 0] = numbers.split(",").map(Number);
      const next = command === "H" ? [a, y] : command === "V" ? [x, a] : [a, b];
      if (command === "M" || next[0] !== x || next[1] !== y) found.push(`${command === "M" ? "M" : ""}${next.join()}`);
      [x, y] = next as [number, number];
    }
  }
  return found;
}

describe("a shorter path", () => {
  it("drops corners that repeat, and writes level and upright lines as such", () => {
    expect(shortPath("M0,16L15.2,16L15.2,16L15.2,42L30,50Z")).toBe("M0,16H15.2V42L30,50Z");
  });

  it("has the same corners, whatever they are", () => {
    const point = fc.tuple(fc.integer({ min: -3, max: 3 }), fc.integer({ min: -3, max: 3 }));
    fc.assert(fc.property(fc.array(fc.array(point, { minLength: 1 }), { minLength: 1 }), (runs) => {
      const d = runs.map((run) => `${run.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x},${y}`).join("")}Z`).join("");
      expect(corners(shortPath(d))).toEqual(corners(d));
      expect(shortPath(d).length).toBeLessThanOrEqual(d.length);
    }));
  });

  it("leaves curves alone", () => {
    expect(shortPath("M0,0A2,2,0,1,1,4,0L5,0")).toBe("M0,0A2,2,0,1,1,4,0L5,0");
  });
});
