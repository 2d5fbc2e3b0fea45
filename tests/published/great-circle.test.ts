/**
 * Sources: Rosetta Code, "Haversine formula" (Nashville to Los Angeles; M, agrees with a recomputation, R), and
 * Meeus, Astronomical Algorithms, example 11.c (Paris to Washington; the book's 6166 km on a sphere is M, 6165.597 km
 * is a recomputation, R). On a sphere distances grow with its radius: ours is 6371.0088 km.
 */
import { describe, expect, it } from "vitest";
import { makeCellReader } from "../../src/intake/cells.js";

const RADIUS_KM = 6371.0088;

/** Kilometres between two places given as latitude, longitude in degrees, as intake measures them. */
function kilometres(from: readonly [number, number], home: readonly [number, number]): number {
  return makeCellReader({ form: "position", homeLatitude: home[0], homeLongitude: home[1] }, { missing: [], lost: [], decimal: "." })(String(from[0]), String(from[1])) / 1000;
}

const degrees = (whole: number, minutes: number, seconds: number): number => whole + minutes / 60 + seconds / 3600;

describe("Nashville to Los Angeles", () => {
  const found = kilometres([36.12, -86.67], [33.94, -118.4]);

  it("is 2886.4484298 km on our sphere (R)", () => {
    expect(found).toBeCloseTo(2886.4484298, 6);
  });

  it("is Rosetta Code's 2887.2599506 km on a sphere of 6372.8 km (M, R)", () => {
    expect((found * 6372.8) / RADIUS_KM).toBeCloseTo(2887.2599506, 6);
  });
});

describe("Paris to Washington", () => {
  const found = kilometres([degrees(48, 50, 11), degrees(2, 20, 14)], [degrees(38, 55, 17), -degrees(77, 3, 56)]);

  it("is 6165.597 km on a sphere of 6371 km (R), in the book 6166 km (M)", () => {
    expect((found * 6371) / RADIUS_KM).toBeCloseTo(6165.597, 3);
    expect(Math.round((found * 6371) / RADIUS_KM)).toBe(6166);
  });
});
