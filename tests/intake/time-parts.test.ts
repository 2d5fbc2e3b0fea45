import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makePacker } from "../../src/intake/packed-readings.js";
import type { Readings } from "../../src/intake/readings.js";
import { APART_MS, timeParts, type TimePart } from "../../src/intake/time-parts.js";

const DAY = 86_400_000;

function heard(signal: string, times: readonly number[]): Readings {
  return { signal, times: Float64Array.from(times), values: new Float64Array(times.length) };
}

/** The same, packed as intake packs it: the times are unpacked anew at every access. */
function packed(signal: string, times: readonly number[]): Readings {
  const packer = makePacker(1);
  for (const time of times) packer.add(time, 0);
  return { ...heard(signal, times), parts: [packer.finish()] };
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
    expect(timeParts([packed("rail", [0, ...month]), packed("mat", month)])).toEqual([
      { from: 0, to: 0, count: 1 },
      { from: month[0], to: month[29], count: 60 },
    ]);
  });

  it("are none without readings", () => {
    expect(timeParts([heard("rail", []), packed("mat", [])])).toEqual([]);
  });

  it("are those of all instants sorted and cut at every hole", () => {
    const times = fc.array(fc.integer({ min: 0, max: 1500 }), { maxLength: 20 }).map((days) => days.map((day) => day * DAY + 7).sort((a, b) => a - b));
    fc.assert(
      fc.property(fc.array(times, { maxLength: 4 }), (all) => {
        expect(timeParts(all.map((one, i) => (i % 2 === 0 ? heard : packed)(`s${i}`, one)))).toEqual(slowly(all));
      }),
      { numRuns: 300 },
    );
  });
});
