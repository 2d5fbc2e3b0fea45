import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { commonGaps, longGaps, outstanding } from "../../../src/truth/signals/gaps.js";
import { HOUR, MINUTE } from "./small-site.js";

describe("gaps", () => {
  test("of one signal are the hours without a word, those before the first and after the last too", () => {
    expect(longGaps(Float64Array.of(HOUR, 1.5 * HOUR, 3 * HOUR))).toEqual([{ from: -Infinity, to: HOUR }, { from: 1.5 * HOUR, to: 3 * HOUR }, { from: 3 * HOUR, to: Infinity }]);
  });

  test("of a group are those of all its readings together, by brute force", () => {
    const someTimes = fc.array(fc.integer({ min: 0, max: 60 }), { maxLength: 12 }).map((halves) => Float64Array.from(halves.toSorted((a, b) => a - b), (half) => (half * HOUR) / 2));
    fc.assert(
      fc.property(fc.array(someTimes, { minLength: 1, maxLength: 4 }), (lists) => {
        const all = Float64Array.from(lists.flatMap((list) => [...list]).toSorted((a, b) => a - b));
        expect(commonGaps(lists.map(longGaps))).toEqual(longGaps(all));
      }),
      { numRuns: 300 },
    );
  });
});

describe("a quiet that stands out", () => {
  const lengths = (hours: readonly number[], spoken = HOUR / 2) => {
    let at = 0;
    const times = [0];
    for (const one of hours) times.push((at += spoken), (at += one * HOUR));
    return outstanding(longGaps(Float64Array.from(times)), at + HOUR);
  };
  const nights = Array.from({ length: 25 }, (_, i) => 9 + (i % 3));

  test("is more than twice as long as any other", () => {
    const { stretches, usualMs } = lengths([...nights, 72, ...nights]);
    expect([stretches.map(({ from, to }) => to - from), usualMs]).toEqual([[72 * HOUR], 11 * HOUR]);
    expect(lengths([...nights, 20, ...nights]).stretches).toEqual([]);
  });

  test("may be one of several", () => {
    expect(lengths([...nights, 72, ...nights, 96, ...nights]).stretches).toHaveLength(2);
  });

  test("is none of a contact that moves twice a week, a minute open each time", () => {
    expect(lengths([90, 80, 84, 100, 60, 84, 90, 76], MINUTE).stretches).toEqual([]);
    expect(lengths([90, 80, 84, 290, 60, 84, 90, 76], MINUTE).stretches).toEqual([]);
  });

  test("is none where it fills most of the history, or where there is hardly a history", () => {
    expect(lengths([9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 200]).stretches).toEqual([]);
    expect(lengths([200]).stretches).toEqual([]);
    // Ten hours in twenty are half of it, and the rest is ten times an hour.
    const half = [{ from: -Infinity, to: 0 }, { from: 5 * HOUR, to: 15 * HOUR }, { from: 20 * HOUR, to: Infinity }];
    expect(outstanding(half, 20 * HOUR).stretches).toEqual([half[1]]);
    expect(outstanding(half, 20 * HOUR - 1).stretches).toEqual([]);
    expect(outstanding(longGaps(new Float64Array(0)), -Infinity).stretches).toEqual([]);
  });
});
