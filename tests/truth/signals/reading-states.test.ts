import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bandStates, readingStates } from "../../../src/truth/signals/reading-states.js";
import type { Band } from "../../../src/site/site.js";
import { feet, meter, signal } from "./small-site.js";

const band: Band = { nearMetres: 1, farMetres: 2, slackMetres: 0.25, maximumMetres: 3 };

function states(values: readonly number[], inBand: Band = band): number[] {
  return [...bandStates(inBand, Float64Array.from(values))];
}

describe("a band", () => {
  test("is on between its edges, edges included", () => {
    expect(states([0.99, 1, 1.5, 2]).concat(states([2.01]))).toEqual([0, 1, 1, 1, 0]);
  });

  test("is wider at the far end once on, and narrow again once off", () => {
    expect(states([2.2, 1.9, 2.2, 2.25, 2.26, 2.2, 2])).toEqual([0, 1, 1, 1, 0, 0, 1]);
  });

  test("is wider at the near end once on, and narrow again once off", () => {
    expect(states([0.8, 1.1, 0.8, 0.75, 0.74, 0.8, 1])).toEqual([0, 1, 1, 1, 0, 0, 1]);
  });

  test("hears no echo at the maximum, even where band and slack reach past it", () => {
    expect(states([1.5, 2.9, 3, 2.9, 5], { nearMetres: 1, farMetres: 2.5, slackMetres: 2, maximumMetres: 3 })).toEqual([1, 1, 0, 0, 0]);
  });

  test("without a maximum reaches as far as it says", () => {
    expect(states([5, 9, 9.1], { nearMetres: 1, farMetres: 9, slackMetres: 0, maximumMetres: null })).toEqual([1, 1, 0]);
  });

  test("is unknown while the meter itself does not know, and remembers what was before", () => {
    expect(states([1.5, NaN, 2.2, 2.5, NaN, 2.2])).toEqual([1, 2, 1, 0, 2, 0]);
  });

  test("that knows how an empty bay reads is off there and without an echo, and neither elsewhere", () => {
    const known: Band = { ...band, empty: [{ nearMetres: 2.5, farMetres: 2.75 }, { nearMetres: 0.1, farMetres: 0.2 }] };
    expect(states([0.05, 0.1, 0.2, 0.5, 1, 2.25, 2.26, 2.25, 2.5, 2.75, 2.8, 3, 9, NaN], known)).toEqual([3, 0, 0, 3, 1, 1, 3, 3, 0, 0, 3, 0, 0, 2]);
    expect(states([2, 2.2, 2.25, 2.9, 3], { ...band, empty: [] })).toEqual([1, 1, 1, 3, 0]);
  });

  test("does not lose a reading on its edge to the rounding of feet", () => {
    // 4.7 ft + 0.1 ft is not the same double as 4.8 ft; every tenth of a foot is a reading that such meters really give.
    for (let tenths = 10; tenths < 200; tenths += 1) {
      const edge: Band = { nearMetres: feet(0.1), farMetres: feet(tenths / 10), slackMetres: feet(0.1), maximumMetres: feet((tenths + 2) / 10) };
      const readings = [tenths / 10, (tenths + 1) / 10, (tenths + 2) / 10].map(feet);
      expect(states(readings, edge), `${tenths / 10} ft`).toEqual([1, 1, 0]);
    }
  });

  test("is the same as asking: was there a reading well inside, and has none been outside the wide band since?", () => {
    const value = fc.oneof(fc.integer({ min: 0, max: 14 }).map((quarter) => quarter / 4), fc.constant(NaN));
    const anyBand = fc.record({
      nearMetres: fc.constantFrom(0.5, 1),
      farMetres: fc.constantFrom(1.5, 2),
      slackMetres: fc.constantFrom(0, 0.25, 0.5),
      maximumMetres: fc.constantFrom(null, 2, 2.25, 3),
    });
    fc.assert(
      fc.property(fc.array(value, { maxLength: 20 }), anyBand, (values, someBand) => {
        const within = (x: number, slack: number): boolean =>
          x >= someBand.nearMetres - slack && x <= someBand.farMetres + slack && x < (someBand.maximumMetres ?? Infinity);
        const twin = values.map((now, i) => {
          if (Number.isNaN(now)) return 2;
          const on = values.slice(0, i + 1).some(
            (then, j) => within(then, 0) && values.slice(j, i + 1).every((x) => Number.isNaN(x) || within(x, someBand.slackMetres)),
          );
          return on ? 1 : 0;
        });
        expect(states(values, someBand)).toEqual(twin);
      }),
      { numRuns: 500 },
    );
  });
});

describe("what a reading says", () => {
  test("is 1 on, 0 off, NaN unknown for words", () => {
    expect([...readingStates(signal("rail"), Float64Array.of(1, 0, NaN, 1))]).toEqual([1, 0, 2, 1]);
  });

  test("is here within the radius of home for a position, and a little further once here", () => {
    const phone = signal("phone", {
      kind: "position",
      reading: { form: "position", homeLatitude: 51, homeLongitude: 0 },
      band: { nearMetres: 0, farMetres: 100, slackMetres: 20, maximumMetres: null },
    });
    expect([...readingStates(phone, Float64Array.of(110, 0, 100, 110, 121, 110, NaN))]).toEqual([0, 1, 1, 1, 0, 0, 2]);
  });

  test("cannot be told of a meter without a band", () => {
    expect(() => readingStates({ ...meter("m", { near: 1, far: 2 }), band: null }, new Float64Array(0))).toThrow("Signal m is read as a distance but has no band.");
  });
});
