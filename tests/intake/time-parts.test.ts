import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Readings } from "../../src/intake/readings.js";
import { APART_MS, readingsWithin, timeParts, type TimePart } from "../../src/intake/time-parts.js";
import { packed, pairsOf, readingsOf } from "./packed.js";

const DAY = 86_400_000;

function heard(signal: string, times: readonly number[]): Readings {
  return readingsOf(signal, times.map((time) => [time, 0]));
}

/** All instants sorted, cut at every hole: the plain way. */
function slowly(all: readonly (readonly number[])[]): TimePart[] {
  const parts: { from: number; to: number; count: number }[] = [];
  for (const instant of all.flat().sort((a, b) => a - b)) {
    const last = parts.at(-1);
    if (last === undefined || instant - last.to > APART_MS) parts.push({ from: instant, to: instant, count: 1 });
    else [last.to, last.count] = [instant, last.count + 1];
  }
  return parts;
}

describe("the stretches of time in which readings lie", () => {
  it("are one where no three months pass without a reading, whatever the signal", () => {
    const [rail, mat] = [heard("rail", [0, 100 * DAY]), heard("mat", [50 * DAY, 170 * DAY])];
    expect(timeParts([rail, mat])).toEqual([{ from: 0, to: 170 * DAY, count: 4 }]);
  });

  it("are set apart by a clock that was not set", () => {
    const month = Array.from({ length: 30 }, (_, i) => Date.UTC(2026, 9, i + 1));
    expect(timeParts([heard("rail", [0, ...month]), heard("mat", month)])).toEqual([
      { from: 0, to: 0, count: 1 },
      { from: month[0], to: month[29], count: 60 },
    ]);
  });

  it("are none without readings", () => {
    expect(timeParts([heard("rail", []), { signal: "mat", parts: [] }])).toEqual([]);
  });

  it("are those of all instants sorted and cut at every hole", () => {
    const times = fc.array(fc.integer({ min: 0, max: 1500 }), { maxLength: 20 }).map((days) => days.map((day) => day * DAY + 7).sort((a, b) => a - b));
    fc.assert(
      fc.property(fc.array(times, { maxLength: 4 }), (all) => {
        expect(timeParts(all.map((one, i) => heard(`s${i}`, one)))).toEqual(slowly(all));
      }),
      { numRuns: 300 },
    );
  });
});

describe("the readings of one stretch", () => {
  const list = fc.array(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.oneof(fc.double({ min: 0, max: 9, noNaN: true }), fc.constant(Number.NaN))), { maxLength: 25 }).map((all) => all.toSorted(([a], [b]) => a - b));

  it("are those at or between its ends", () => {
    fc.assert(
      fc.property(list, fc.nat(25), fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 60 }), (all, cut, a, b) => {
        const [from, to] = [Math.min(a, b), Math.max(a, b)];
        const parts = [all.slice(0, cut), all.slice(cut)].filter((part) => part.length > 0).map((part) => packed(part));
        const kept = readingsWithin(new Map([["mat", { signal: "mat", parts }]]), { from, to, count: 0 }).get("mat")!;
        expect(pairsOf(kept)).toEqual(all.filter(([at]) => at >= from && at <= to));
        expect(kept.parts.every(({ count }) => count > 0)).toBe(true);
      }),
    );
  });
});
