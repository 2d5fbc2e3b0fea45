import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addToSeries, finishSeries, makeSeries, seriesHas, type Series } from "../../src/intake/series.js";
import { packed, pairsOf, type Pair } from "./packed.js";

const finished = (series: Series): Pair[] => pairsOf({ parts: [finishSeries(series)] });

describe("the readings of a signal while they grow", () => {
  it("come out sorted, equal instants in the order they came", () => {
    const series = makeSeries(1);
    for (const [instant, value] of [[2, 5], [1, 7], [2, 4], [1, 6]] as const) addToSeries(series, instant, value);
    expect(finished(series)).toEqual([[1, 7], [1, 6], [2, 5], [2, 4]]);
  });

  it("know a repeat of a reading without value", () => {
    const series = makeSeries(1);
    addToSeries(series, 1, Number.NaN);
    expect([seriesHas(series, 1, Number.NaN), seriesHas(series, 1, 0), seriesHas(series, 0, Number.NaN)]).toEqual([true, false, false]);
  });

  it("know a repeat of a reading that came late, and of one that an earlier file holds", () => {
    const series = makeSeries(1, [packed([[3, 1]])]);
    for (const instant of [5, 2]) addToSeries(series, instant, 1);
    expect([1, 2, 3, 4, 5].map((instant) => seriesHas(series, instant, 1))).toEqual([false, true, true, false, true]);
  });

  it("agree with a plain list of pairs", () => {
    const pairs = fc.array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.constantFrom(0, 1, 2.5, Number.NaN)), { maxLength: 200 });
    fc.assert(
      fc.property(pairs, (all) => {
        const series = makeSeries(1);
        const plain: [number, number][] = [];
        for (const [instant, value] of all) {
          const repeats = plain.some(([t, v]) => t === instant && Object.is(v, value));
          expect(seriesHas(series, instant, value)).toBe(repeats);
          if (repeats) continue;
          addToSeries(series, instant, value);
          plain.push([instant, value]);
        }
        plain.sort(([a], [b]) => a - b);
        expect(finished(series)).toEqual(plain);
      }),
    );
  });

  it("grow beyond every first size, in order and out of order", () => {
    const series = makeSeries(1);
    for (let i = 0; i < 5000; i++) addToSeries(series, i * 10, 1);
    for (let i = 4999; i >= 0; i--) {
      expect(seriesHas(series, i * 10, 1)).toBe(true);
      addToSeries(series, i * 10 + 5, 1);
    }
    expect(finished(series).map(([instant]) => instant)).toEqual(Array.from({ length: 10_000 }, (_, i) => i * 5));
  });
});
