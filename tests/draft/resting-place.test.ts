import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { restAt, restingPlace, type Places } from "../../src/draft/resting-place.js";
import { metresBetween } from "../../src/intake/place.js";
import { daysOf, home, type Point } from "./invented-tracks.js";

const HOUR = 3_600_000;
const placesOf = (points: readonly Point[]): Places => ({
  times: Float64Array.from(points, ([at]) => at),
  stretches: new Int32Array(points.length),
  latitudes: Float64Array.from(points, ([, latitude]) => latitude),
  longitudes: Float64Array.from(points, ([, , longitude]) => longitude),
});

describe("the place where a signal rests most", () => {
  it("is where most time passes between readings close together, rounded to four decimals", () => {
    const place = restingPlace([placesOf(daysOf(8))])!;
    expect([place.latitude, place.longitude]).toEqual([home.latitude, home.longitude]);
    expect(place.restMs / place.totalMs).toBeGreaterThan(0.6);
    expect(place.nextMs / place.totalMs).toBeGreaterThan(0.25);
  });

  it("is weighed by time, not by readings: a tracker that is off at home still rests there", () => {
    const moving = Array.from({ length: 500 }, (_, i) => [i * 60_000, 50 + i / 1000, -3] as const);
    const night: Point[] = [[600 * 60_000, 50.9, -3], [600 * 60_000 + 14 * HOUR, 50.9, -3]];
    expect(restingPlace([placesOf([...moving, ...night])])).toMatchObject({ latitude: 50.9, longitude: -3, restMs: 14 * HOUR });
  });

  it("counts at most a day between two readings", () => {
    expect(restingPlace([placesOf([[0, 50, -3], [90 * 24 * HOUR, 50, -3]])])).toMatchObject({ restMs: 24 * HOUR, totalMs: 24 * HOUR, nextMs: 0 });
  });

  it("takes no rest from between two parts of a file, nor from readings without a place", () => {
    const parts = { ...placesOf([[0, 50, -3], [HOUR, 50, -3]]), stretches: Int32Array.from([0, 1]) };
    expect(restingPlace([parts])).toBeNull();
    expect(restingPlace([placesOf([[0, Number.NaN, -3], [HOUR, Number.NaN, -3]])])).toBeNull();
    expect(restingPlace([placesOf([[0, 50, -3], [HOUR, Number.NaN, -3], [2 * HOUR, 50, -3]])])?.restMs).toBe(2 * HOUR);
    expect(restingPlace([])).toBeNull();
  });

  it("is found wherever on earth it is and however it lies across squares, within the waver of its readings", () => {
    fc.assert(
      fc.property(fc.double({ min: -80, max: 80, noNaN: true }), fc.double({ min: -179, max: 179, noNaN: true }), fc.array(fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true })), { minLength: 30, maxLength: 60 }), (latitude, longitude, wavers) => {
        const width = Math.cos((latitude * Math.PI) / 180);
        // Wavers of up to 30 m each way; then as many hours of driving.
        const resting = wavers.map(([north, east], i) => [i * HOUR, latitude + north * 0.00027, longitude + (east * 0.00027) / width] as const);
        const driving = wavers.map((_, i) => [(100 + i) * HOUR, latitude + 0.01 * (i + 1), longitude] as const);
        const places = placesOf([...resting, ...driving]);
        const place = restingPlace([places])!;
        expect(metresBetween(place, { latitude, longitude })).toBeLessThan(60);
        const { ms, scatterMetres } = restAt(place, places);
        expect(ms).toBe((wavers.length - 1) * HOUR);
        expect(scatterMetres).toBeLessThan(110);
      }),
      { numRuns: 100 },
    );
  });
});
