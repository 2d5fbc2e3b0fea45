import { describe, expect, test } from "vitest";
import { adviseBands } from "../../../src/truth/bands/advice.js";
import type { Interval } from "../../../src/ground/intervals.js";
import type { Band, SignalSpec } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { readingsOf } from "../../intake/packed.js";
import { MINUTE, signal, siteWith, subject } from "../episodes/small-site.js";
import type { BandAdvice } from "../../../src/result/witnesses.js";

const overhead: SignalSpec = { ...signal("overhead", "bay-1"), kind: "distance", reading: { form: "distance", unit: "cm" } };
const wide: Band = { nearMetres: 1, farMetres: 1.5, slackMetres: 0, maximumMetres: null };

/** Evenly spread noise, the same in every run. */
const wobble = (i: number): number => ((i * 0.618) % 1) * 0.04 - 0.02;

const wholePeriod: Interval = { from: 0, to: 1000 * MINUTE };

/** A reading a minute for 1000 minutes: `at(i)` in metres, and who says occupied by minute. */
function advised(at: (minute: number) => number, occupied: (minute: number) => boolean, band: Band = wide, period = wholePeriod): BandAdvice {
  const minutes = Array.from({ length: 1000 }, (_, i) => i);
  const timeline = timelineOf(0, 1000 * MINUTE, minutes.map((i) => [i * MINUTE, occupied(i) ? 1 : 0] as const));
  const site = siteWith([subject("bay-1", "bay")], [{ ...overhead, band }]);
  const readings = new Map([["overhead", readingsOf("overhead", minutes.map((i) => [i * MINUTE, at(i)]))]]);
  const [advice] = adviseBands(site, readings, (of, excluding) => ({ subject: of, excluding, timeline, segments: [] }), period);
  return advice!;
}

const there = (i: number): boolean => i % 200 < 120;

describe("band advice", () => {
  test("two plain modes: a band around the occupied one that the empty one never reaches", () => {
    const advice = advised((i) => (there(i) ? 1.2 : 2.4) + wobble(i), there);
    expect(advice.occupied?.metres).toBeCloseTo(1.2, 2);
    expect(advice.empty?.metres).toBeCloseTo(2.4, 2);
    expect(advice.thresholds.otsuMetres).toBeCloseTo(1.8, 1);
    expect(advice.suggested!.nearMetres).toBeLessThan(1.15);
    expect(advice.suggested!.farMetres).toBeGreaterThan(1.25);
    expect(advice.suggested!.farMetres).toBeLessThan(1.8);
    expect(advice.presentHolds).toBe(true);
    expect(advice.margins.occupiedToFar?.metres).toBeCloseTo(0.3, 2);
  });

  test("which mode is occupied is told by the others, not by which is nearer", () => {
    const advice = advised((i) => (there(i) ? 2.4 : 1.2) + wobble(i), there);
    expect(advice.occupied?.metres).toBeCloseTo(2.4, 2);
    expect(advice.suggested!.nearMetres).toBeGreaterThan(1.3);
  });

  test("one mode only gives no band, and says so", () => {
    const advice = advised((i) => 1.2 + wobble(i), () => true);
    expect(advice).toMatchObject({ suggested: null, presentHolds: null, occupied: null });
    expect(advice.why).toMatch(/one mode only/);
  });

  test("an empty bay without an echo is the other mode", () => {
    const advice = advised((i) => (there(i) ? 1.2 + wobble(i) : 3), there, { ...wide, maximumMetres: 3 });
    expect(advice).toMatchObject({ emptyIsNoEcho: true, empty: null, noEcho: 400 });
    expect(advice.suggested).not.toBeNull();
  });

  test("a hatch held under the meter again and again is let into the band", () => {
    const hatch = (i: number): boolean => i % 200 < 5;
    const advice = advised((i) => (hatch(i) ? 0.9 : there(i) ? 1.2 : 2.4) + wobble(i), there);
    expect(advice.otherModes).toMatchObject([{ stretches: 5, readings: 25, insideBand: false }]);
    expect(advice.otherModes[0]!.metres).toBeCloseTo(0.9, 2);
    expect(advice.suggested!.nearMetres).toBeLessThan(0.88);
    expect(advice.presentHolds).toBe(false);
    expect(advice.evidence.join("\n")).toContain("while the others say occupied");
  });

  test("what reads oddly while nobody says occupied is no other mode", () => {
    const odd = (i: number): boolean => i % 200 > 190;
    const advice = advised((i) => (odd(i) ? 0.9 : there(i) ? 1.2 : 2.4) + wobble(i), there);
    expect(advice.otherModes).toEqual([]);
  });

  test("two modes with no room for the allowance between them part at the threshold", () => {
    const advice = advised((i) => (there(i) ? 2 : 2.15) + wobble(i) / 4, there, { ...wide, nearMetres: 1.9, farMetres: 2.1 });
    expect(advice.suggested!.farMetres).toBeCloseTo(2.075, 2);
    expect(advice.evidence.at(-1)).toContain("no room for more");
  });

  test("modes too near for noise alone give no band", () => {
    const advice = advised((i) => (there(i) ? 2 : 2.06) + wobble(i), there);
    expect(advice).toMatchObject({ suggested: null });
    expect(advice.why).toMatch(/too near|one mode only/);
  });

  test("the band is written as the site file would have it, in its own unit and rounded outwards", () => {
    expect(advised((i) => (there(i) ? 1.2 : 2.4) + wobble(i), there).suggested!.written).toMatch(/^present: \[\d+, \d+\]$/);
  });

  test("is made of the readings within the period alone, the first instant in and the last one out", () => {
    // Before and after the period the meter hung elsewhere; with those readings nothing would part in two.
    const [from, to] = [200, 800];
    const moved = (i: number): boolean => i < from || i >= to;
    const advice = advised((i) => (moved(i) ? 0.3 + i / 200 : there(i) ? 1.2 : 2.4) + wobble(i), there, wide, { from: from * MINUTE, to: to * MINUTE });
    expect(advice.readings).toBe(600);
    expect(advice.occupied).toMatchObject({ readings: 360 });
    expect(advice.empty).toMatchObject({ readings: 240 });
    expect(advice.histogram!.from).toBeGreaterThan(1.1);
    expect(advice.histogram!.from + 80 * advice.histogram!.width).toBeLessThan(2.5);
  });

  test("leaves out readings that say nothing", () => {
    const advice = advised((i) => (i % 10 === 0 ? NaN : there(i) ? 1.2 : 2.4) + wobble(i), there);
    expect(advice).toMatchObject({ readings: 900, noEcho: 0 });
  });
});
