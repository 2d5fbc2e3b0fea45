import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { modeOf, twoModes } from "../../../src/truth/bands/modes.js";

/** No spread is smaller: a millimetre. */
const LEAST_DEVIATION_METRES = 0.001;

/** Median by the book: the middle one, or the mean of the middle two. */
const medianByTheBook = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return (sorted[Math.floor((sorted.length - 1) / 2)]! + sorted[Math.ceil((sorted.length - 1) / 2)]!) / 2;
};

describe("middle and spread of a mode", () => {
  it("are those of the textbook, whatever the readings", () => {
    const readings = fc.array(fc.oneof(fc.integer({ min: 1, max: 40 }).map((n) => n / 10), fc.double({ min: 0, max: 4, noNaN: true })), { minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(readings, (values) => {
        const mode = modeOf(Float64Array.from(values).sort());
        const metres = medianByTheBook(values);
        expect(mode.metres).toBe(metres);
        expect(mode.deviationMetres).toBe(Math.max(LEAST_DEVIATION_METRES, 1.4826 * medianByTheBook(values.map((value) => Math.abs(value - metres)))));
        expect(mode.readings).toBe(values.length);
      }),
    );
  });

  it("do not notice one reading far off", () => {
    expect(modeOf(Float64Array.of(1.1, 1.2, 1.2, 1.2, 9))).toEqual({ metres: 1.2, deviationMetres: LEAST_DEVIATION_METRES, readings: 5 });
  });
});

describe("two modes", () => {
  const spread = (metres: number, count: number): number[] => Array.from({ length: count }, (_, i) => metres + (((i * 0.618) % 1) - 0.5) * 0.1);
  const found = (...values: number[]) => twoModes(Float64Array.from(values).sort());

  it("are told apart by the valley between them", () => {
    const { modes, otsuMetres } = found(...spread(1, 200), ...spread(2, 100));
    expect(modes?.map(({ metres }) => Math.round(metres * 100) / 100)).toEqual([1, 2]);
    expect(modes?.map(({ readings }) => readings)).toEqual([200, 100]);
    expect(otsuMetres).toBeCloseTo(1.5, 1);
  });

  it("are one where the way between them is as full as they are", () => {
    const { modes, why } = found(...Array.from({ length: 400 }, (_, i) => 1 + i / 400));
    expect(modes).toBeNull();
    expect(why).toBe("one mode only: the readings do not fall into two");
  });

  it("are one where their peaks lie nearer together than the readings around them spread", () => {
    const even = (from: number, to: number, count: number): number[] => Array.from({ length: count }, (_, i) => from + ((i * 0.618) % 1) * (to - from));
    // Nothing lies between the peaks, but each has a tail half a metre long on its outer side: two normals with
    // deviations of about 0.24 m, 0.3 m apart.
    const { modes, mixture, why } = found(...even(1.99, 2.01, 100), ...even(2.29, 2.31, 100), ...even(1.5, 1.99, 50), ...even(2.31, 2.8, 50));
    expect(mixture!.components[1].mean - mixture!.components[0].mean).toBeLessThan(2 * mixture!.components[0].deviation);
    expect(modes).toBeNull();
    expect(why).toBe("one mode only: the readings do not fall into two");
  });
});
