import { describe, expect, it } from "vitest";
import type { Counted } from "../../../src/compare/fleets/counted.js";
import { tamed, usualOf } from "../../../src/compare/fleets/usual.js";
import { randomStream } from "../../../src/simulate/random.js";

/** Counts around a nature of each unit's own. */
function drawn(units: number, seed: number, natureOf: (normal: () => number) => number): Counted[] {
  const random = randomStream(seed, "usual");
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  return Array.from({ length: units }, () => {
    const exposure = 2 + 8 * random();
    const mean = exposure * natureOf(normal);
    let count = -1;
    for (let passed = 0; passed <= mean; count += 1) passed -= Math.log(1 - random());
    return { count, exposure };
  });
}
const lognormal = (deviation: number) => (normal: () => number): number => Math.exp(deviation * normal() - deviation ** 2 / 2);

describe("what is usual among units", () => {
  it.each([10, 50, 200])("is hardly moved by a unit that chatters %i times", (times) => {
    const units = drawn(60, 1, () => 1);
    const beside = units.map((one, i) => (i === 7 ? { ...one, count: one.count + times } : one));
    expect(usualOf(beside)([]).rate / usualOf(units)([]).rate).toBeCloseTo(1, 1);
    expect(Math.max(...usualOf(beside)([]).natures.map(({ deviation }) => deviation))).toBeLessThan(0.5);
  });

  it("is moved by one that chatters 200 times no more than by one that chatters 50 times", () => {
    const units = drawn(60, 1, () => 1);
    const [much, more] = [50, 200].map((count) => usualOf(units.map((one, i) => (i === 7 ? { ...one, count } : one)))([]));
    expect(more!.rate).toBeCloseTo(much!.rate, 3);
    expect(more!.natures).toEqual(much!.natures);
  });

  it("tells three broken ones among alike from a nature with many in between", () => {
    const alike = drawn(48, 2, () => 0.1).map((one, i) => (i < 3 ? { ...one, count: [167, 41, 11][i]! } : one));
    const natural = drawn(48, 2, lognormal(1.2));
    const widest = (units: readonly Counted[]): number => Math.max(...usualOf(units)([]).natures.map(({ deviation }) => deviation));
    expect(usualOf(alike)([]).rate).toBeLessThan(0.15);
    expect(widest(natural)).toBeGreaterThan(1.5);
  });

  it("has the mean rate of a heavy-tailed nature, not the lower one of those that do not stand out", () => {
    const rates = Array.from({ length: 12 }, (_, seed) => usualOf(drawn(300, seed, lognormal(0.7)))([]).rate);
    const mean = rates.reduce((sum, one) => sum + one, 0) / rates.length;
    expect(mean).toBeGreaterThan(0.96);
    expect(mean).toBeLessThan(1.04);
  });

  it("does not rule out the nature that counts were drawn with: what it takes for possible is as wide or wider, and not absurdly wide", () => {
    // Standard deviations of lognormal rates with σ = 0.3, 0.7 and 1.
    for (const [sigma, deviation] of [[0.3, 0.307], [0.7, 0.795], [1, 1.311]] as const) {
      const widest = Array.from({ length: 10 }, (_, seed) => Math.max(...usualOf(drawn(300, seed, lognormal(sigma)))([]).natures.filter(({ family }) => family === "lognormal").map((one) => one.deviation)));
      expect(widest.filter((one) => one < 0.9 * deviation)).toEqual([]);
      expect(Math.max(...widest)).toBeLessThan(1.8 * deviation);
    }
  });

  it("leaves a group out: its own counts make no difference to what is usual without it", () => {
    const units = drawn(40, 3, lognormal(0.3));
    const without = usualOf(units)([4, 9]);
    const other = usualOf(units.filter((_, i) => i !== 4 && i !== 9))([]);
    expect(without.rate / other.rate).toBeCloseTo(1, 2);
    expect(without.events).toBeCloseTo(other.events, -1);
    // A large group is left out by fitting the others alone.
    const half = Array.from({ length: 20 }, (_, i) => i);
    expect(usualOf(units)(half)).toEqual(usualOf(units.slice(20))([]));
  });

  it("is nothing where nothing was counted", () => {
    expect(usualOf([{ count: 0, exposure: 3 }, { count: 0, exposure: 2 }])([0])).toMatchObject({ rate: 0, events: 0 });
  });

  it("does not grow with what is expected: beyond some hundred events more of them tell nothing new", () => {
    expect(tamed(7, 3)).toEqual({ count: 7, expected: 3, scale: 1 });
    expect(tamed(120_001, 100_000)).toEqual({ count: 240, expected: 200, scale: 500 });
    const busy = drawn(40, 5, lognormal(0.3)).map((one) => ({ count: one.count * 10_000, exposure: one.exposure * 10_000 }));
    expect(usualOf(busy)([]).rate).toBeGreaterThan(0.8);
  });
});
