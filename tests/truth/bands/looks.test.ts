import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { looksOf, type Side } from "../../../src/truth/bands/looks.js";

const MINUTE = 60_000;
const side = (metres: number): Side => (metres >= 4 ? null : metres < 1.8 ? "occupied" : "empty");
/** A reading a minute. */
const looks = (values: readonly number[], emptyIsNoEcho = false) => looksOf(Float64Array.from(values, (_, i) => i * MINUTE), Float64Array.from(values), side, emptyIsNoEcho);
const run = (length: number, metres: number): number[] => Array<number>(length).fill(metres);

describe("looks at where readings rest", () => {
  it("are one value a stay and one an absence, however many readings each had", () => {
    expect(looks([...run(600, 1.21), ...run(30, 2.4), ...run(20, 1.19), ...run(300, 2.42), 1.2])).toEqual({ occupied: [1.19, 1.21], empty: [2.4, 2.42] });
  });

  it("are not made by a flicker: what lies on both sides of it is one stay", () => {
    const flickering = Array.from({ length: 40 }, (_, i) => run(5, i % 2 === 0 ? 2.4 : 1.2)).flat();
    expect(looks([...run(60, 1.2), ...flickering, ...run(60, 1.2), ...run(30, 2.4)]).occupied).toEqual([1.2]);
  });

  it("take the median of a stay, which a hatch held under the meter does not move", () => {
    expect(looks([...run(20, 0.9), ...run(100, 1.2), ...run(30, 2.4)]).occupied).toEqual([1.2]);
  });

  it("end a stay where an empty bay gives no echo, and have no value for it", () => {
    const values = [...run(30, 1.2), ...run(30, 5), ...run(30, 1.3), ...run(30, 5)];
    expect(looks(values, true)).toEqual({ occupied: [1.2, 1.3], empty: [] });
    // Where it is no sign of an empty bay, it is no sign at all: one stay, as far as the meter can tell.
    expect(looks(values).occupied).toHaveLength(1);
  });

  it("are never more than the changes of side and one, whatever the readings", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.constantFrom(1.2, 2.4, 5)), { maxLength: 30 }), (runs) => {
        const values = runs.flatMap(([length, metres]) => run(length, metres));
        const { occupied, empty } = looks(values);
        const sides = values.map(side).filter((one) => one !== null);
        expect(occupied.length + empty.length).toBeLessThanOrEqual(sides.filter((one, i) => one !== sides[i - 1]).length);
        expect(Math.abs(occupied.length - empty.length)).toBeLessThanOrEqual(1);
      }),
      { numRuns: 100 },
    );
  });
});
