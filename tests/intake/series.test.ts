import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { mergedReadings } from "../../src/intake/merge-readings.js";
import { makeSeries, type Series } from "../../src/intake/series.js";

const finished = (series: Series): { times: Float64Array; values: Float64Array } => mergedReadings("x", [series.finish()]);

describe("the readings of a signal while they grow", () => {
  it("come out sorted, equal instants in the order they came", () => {
    const series = makeSeries(1);
    for (const [instant, value] of [[2, 5], [1, 7], [2, 4], [1, 6]] as const) series.add(instant, value);
    const { times, values } = finished(series);
    expect([...times]).toEqual([1, 1, 2, 2]);
    expect([...values]).toEqual([7, 6, 5, 4]);
  });

  it("know a repeat of a reading without value", () => {
    const series = makeSeries(1);
    series.add(1, Number.NaN);
    expect([series.has(1, Number.NaN), series.has(1, 0), series.has(0, Number.NaN)]).toEqual([true, false, false]);
  });

  it("agree with a plain list of pairs", () => {
    const pairs = fc.array(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.constantFrom(0, 1, 2.5, Number.NaN)), { maxLength: 200 });
    fc.assert(
      fc.property(pairs, (all) => {
        const series = makeSeries(1);
        const plain: [number, number][] = [];
        for (const [instant, value] of all) {
          const repeats = plain.some(([t, v]) => t === instant && Object.is(v, value));
          expect(series.has(instant, value)).toBe(repeats);
          if (repeats) continue;
          series.add(instant, value);
          plain.push([instant, value]);
        }
        plain.sort(([a], [b]) => a - b);
        const { times, values } = finished(series);
        expect([...times].map((time, i) => [time, values[i]])).toEqual(plain);
      }),
    );
  });

  it("grow beyond every first size, in order and out of order", () => {
    const series = makeSeries(1);
    for (let i = 0; i < 5000; i++) series.add(i * 10, 1);
    for (let i = 4999; i >= 0; i--) {
      expect(series.has(i * 10, 1)).toBe(true);
      series.add(i * 10 + 5, 1);
    }
    const { times } = finished(series);
    expect(times).toHaveLength(10_000);
    expect([...times]).toEqual(Array.from({ length: 10_000 }, (_, i) => i * 5));
  });
});
