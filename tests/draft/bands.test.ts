import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findBand, findEmptyOnly, histogram } from "../../src/draft/bands.js";
import { bars, shareBars } from "../../src/draft/bars.js";

/** `count` readings around `middle`, spread evenly over ± `spread`. */
const around = (middle: number, spread: number, count: number) => Array.from({ length: count }, (_, i) => middle + spread * ((2 * (i % 11)) / 10 - 1));

describe("the band of a meter", () => {
  it("lies about the nearer heap: a vehicle stands in the way", () => {
    const band = findBand([...around(8, 0.1, 300), ...around(4.2, 0.05, 700)]);
    expect(band?.occupied).toEqual({ middle: 4.2, count: 700 });
    expect(band?.empty).toMatchObject({ middle: 8, count: 300 });
    // An eighth of the way from 4.2 to 8 on both sides.
    expect([band?.near, band?.far, band?.maximum]).toEqual([3.73, 4.67, null]);
  });

  it("leaves room between the band and the readings of an empty bay, which end where the meter's do", () => {
    // Six spreads about the farther heap, or an eighth of the way where that is more.
    expect(findBand([...around(8, 0.1, 300), ...around(4.2, 0.05, 700)])?.empty).toEqual({ middle: 8, count: 300, near: 7.47, far: 8.53 });
    expect(findBand([...around(26, 1, 500), ...around(118, 0, 400)])?.empty).toEqual({ middle: 118, count: 400, near: 107, far: 118 });
    expect(findBand([...around(8, 0.1, 300), ...around(4.2, 0.05, 700), 9.3])?.empty.far).toBe(9.3);
  });

  it("keeps the readings of an empty bay clear of the band and its slack", () => {
    const anyHeap = fc.record({ near: fc.double({ min: 0.5, max: 5, noNaN: true }), ratio: fc.double({ min: 1.5, max: 6, noNaN: true }), spread: fc.double({ min: 0.005, max: 0.08, noNaN: true }) });
    fc.assert(
      fc.property(anyHeap, ({ near, ratio, spread }) => {
        const band = findBand([...around(near, near * spread, 500), ...around(near * ratio, near * spread, 500)]);
        if (band === null) return;
        expect(band.empty.near).toBeGreaterThan(band.far);
        expect(band.empty.far).toBeGreaterThanOrEqual(band.empty.middle);
      }),
      { numRuns: 200 },
    );
  });

  it("takes a heap on one largest reading for the meter's maximum", () => {
    expect(findBand([...around(26, 1, 500), ...around(118, 0, 400)])?.maximum).toBe(118);
  });

  it("asks about readings that are near, but neither", () => {
    const band = findBand([...around(1.2, 0.05, 60), ...around(4.2, 0.1, 700), ...around(8, 0.1, 300)]);
    expect(band?.elsewhere).toBe(60);
    expect(band?.doubt).toBe("6 % of the readings are near, but outside this band");
  });

  it("is not found in the noise of a meter that never read farther, however it rounds", () => {
    const noise = Array.from({ length: 900 }, (_, i) => Number((0.82 + 0.02 * Math.sin(i * i) * Math.cos(3 * i)).toFixed(2)));
    expect(findBand([...noise, 0.76, 0.77, 0.88, 0.89])).toBeNull();
  });

  it("is not found between readings that three digits cannot tell apart", () => {
    expect(findBand([...around(2.4101, 0, 300), ...around(2.4108, 0, 300)])).toBeNull();
  });

  it("is not found where there is one heap only, or hardly a reading", () => {
    expect(findBand(around(4.2, 0.1, 1000))).toBeNull();
    expect(findBand(Array.from({ length: 1000 }, (_, i) => 1 + i / 100))).toBeNull();
    expect(findBand([4, 8])).toBeNull();
    expect(findBand(around(0, 0, 1000))).toBeNull();
  });

  it("grows with the unit, and holds the nearer heap", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 5, noNaN: true }), fc.double({ min: 1.5, max: 6, noNaN: true }), fc.integer({ min: 100, max: 900 }), (near, ratio, count) => {
        const readings = [...around(near, near / 50, count), ...around(near * ratio, near / 50, 1000 - count)];
        const band = findBand(readings);
        if (band === null) throw new Error("no band");
        expect(band.near).toBeLessThan(near * 0.98 * 1.001);
        expect(band.far).toBeGreaterThan(near * 1.02 * 0.999);
        expect(band.far).toBeLessThan(near * ratio * 0.99);
        const inches = findBand(readings.map((reading) => reading * 12));
        expect(inches!.far / band.far).toBeCloseTo(12, 0);
      }),
      { numRuns: 100 },
    );
  });
});

describe("little charts", () => {
  it("draw a histogram with blocks, or plainly", () => {
    const { counts, low, high } = histogram([...around(1, 0, 50), ...around(2, 0, 50), 1.5], 4);
    expect([counts, low, high]).toEqual([[50, 0, 1, 50], 1, 2]);
    expect(bars(counts, true)).toBe("█ ▂█");
    expect(bars(counts, false)).toBe("@ :@");
  });
  it("draw the share of the time that was on, and leave silence blank", () => {
    expect(shareBars([0, 1, 2, 3, 90, 100], [0, 0, 1, 1, 1, 1], 4, true)).toBe("▅··█");
    expect(shareBars([], [], 3, true)).toBe("···");
  });
});

describe("a meter that has seen one state only", () => {
  const road = [...around(661, 3, 984), ...Array.from({ length: 16 }, (_, i) => 120 + 25 * i)];

  it("has its empty band where nearly all readings lie, and nothing is known of occupied", () => {
    expect(findBand(road)).toBeNull();
    expect(findEmptyOnly(road)).toMatchObject({ middle: 661, count: 984, nearer: 16 });
    const found = findEmptyOnly(road)!;
    expect(found.near).toBeLessThan(658);
    expect(found.far).toBeGreaterThan(664);
  });

  it("is not taken for empty where something farther shows, nor where nothing else ever shows", () => {
    expect(findEmptyOnly([...around(120, 3, 984), ...Array.from({ length: 16 }, (_, i) => 400 + 15 * i)])).toBeNull();
    expect(findEmptyOnly(around(661, 3, 1000))).toBeNull();
  });
});
