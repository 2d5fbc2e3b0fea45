import { describe, expect, it } from "vitest";
import { keptStretches, whenOf } from "../../../src/compare/sensors/when.js";
import { MINUTE, minutes, referenceOf } from "../../truth/episodes/small-site.js";

const truth = minutes(1000, [[0, 0], [200, 1], [800, 0]]);
const inMinutes = (all: readonly { from: number; to: number }[]): number[][] => all.map(({ from, to }) => [from / MINUTE, to / MINUTE]);

describe("when a sensor differed", () => {
  it("is when it said the opposite of what most likely happened for two minutes or more", () => {
    const said = minutes(1000, [[0, 0], [201, 1], [300, 0], [320, 1], [800, 0]]);
    const { differed, silent, unchecked } = whenOf({ account: said }, truth, referenceOf("bay-1", truth));
    expect(inMinutes(differed)).toEqual([[300, 320]]);
    expect([silent, unchecked]).toEqual([[], []]);
  });

  it("goes on through short silences, which count as silences too, but not through a day without news", () => {
    const stuck = minutes(1000, [[0, 0], [300, 2], [310, 0], [500, 2], [700, 0]]);
    const { differed, silent } = whenOf({ account: stuck }, truth, referenceOf("bay-1", truth));
    expect(inMinutes(differed)).toEqual([[200, 500], [700, 800]]);
    expect(inMinutes(silent)).toEqual([[300, 310], [500, 700]]);
  });

  it("cannot be told where nothing but the sensor itself speaks for an hour or more", () => {
    const without = referenceOf("bay-1", minutes(1000, [[0, 0], [200, 1], [500, 2], [700, 1], [750, 2], [760, 0]]));
    expect(inMinutes(whenOf({ account: truth }, truth, without).unchecked)).toEqual([[500, 700]]);
  });

  it("is kept in seconds since the period's beginning, the longest of very many, in order of time", () => {
    const many = Array.from({ length: 400 }, (_, n) => ({ from: n * 10 * MINUTE, to: (n * 10 + (n % 2 === 0 ? 3 : 5)) * MINUTE }));
    const kept = keptStretches(many, 0);
    expect(kept).toHaveLength(150);
    expect(kept[0]).toEqual([600, 900]);
    expect(kept.every(([from, to], n) => to - from === 300 && from > (kept[n - 1]?.[0] ?? -1))).toBe(true);
  });
});
