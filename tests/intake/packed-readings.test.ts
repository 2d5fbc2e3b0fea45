import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PackedReadings } from "../../src/intake/packed-readings.js";
import { advance, firstKnownFrom, holdsReading, lastKnownBefore, readingCursor } from "../../src/intake/unpack.js";
import { packed, pairsOf, type Pair } from "./packed.js";

const FOOT = 0.3048;

function walked(readings: PackedReadings, from?: number): Pair[] {
  const pairs: Pair[] = [];
  const cursor = readingCursor(readings, from);
  while (advance(cursor)) pairs.push([cursor.instant, cursor.value]);
  return pairs;
}

/** Often several marks long; steps in time as exports have them, and some they do not. */
const steps = fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 300 }).map((s) => s * 1000), fc.integer({ min: 0, max: 400_000 }), fc.integer({ min: 0, max: 10 ** 13 }));
const values = fc.oneof(fc.integer({ min: 1, max: 9999 }).map((n) => (n / 100) * FOOT), fc.constantFrom(0, 1, Number.NaN), fc.double({ min: 0, max: 1e300 }));
const readings = fc.tuple(fc.integer({ min: -(10 ** 13), max: 10 ** 13 }), fc.array(fc.tuple(steps, values), { maxLength: 300, size: "max" })).map(([start, moves]) => {
  let instant = start;
  return moves.map(([step, value]): Pair => [(instant += step), value]);
});

describe("packed readings", () => {
  it("come out as they went in, to the last bit", () => {
    fc.assert(
      fc.property(readings, (pairs) => {
        const held = packed(pairs, FOOT);
        expect(walked(held)).toEqual(pairs);
        // Bytes need not begin where their memory begins.
        const moved = { ...held, bytes: Uint8Array.from([0, 0, 0, ...held.bytes]).subarray(3) };
        expect(pairsOf({ parts: [held, moved] })).toEqual([...pairs, ...pairs]);
      }),
      { numRuns: 300 },
    );
  });

  it("can be walked from any instant, and looked up", () => {
    fc.assert(
      fc.property(readings, fc.nat(), fc.integer({ min: -1, max: 1 }), (pairs, pick, off) => {
        const held = packed(pairs, FOOT);
        const [instant, value] = pairs[pick % Math.max(pairs.length, 1)] ?? [0, 0];
        expect(walked(held, instant + off)).toEqual(pairs.filter(([at]) => at >= instant + off));
        expect(holdsReading(held, instant, value)).toBe(pairs.length > 0);
        expect(holdsReading(held, instant + off, value + 0.5)).toBe(pairs.some(([at, other]) => at === instant + off && Object.is(other, value + 0.5)));
      }),
      { numRuns: 300 },
    );
  });

  it("tell the nearest readings before and after an instant that say something", () => {
    fc.assert(
      fc.property(readings, fc.nat(), fc.integer({ min: -1, max: 1 }), (pairs, pick, off) => {
        const held = packed(pairs, FOOT);
        const instant = (pairs[pick % Math.max(pairs.length, 1)]?.[0] ?? 0) + off;
        const known = pairs.filter(([, value]) => !Number.isNaN(value)).map(([at]) => at);
        expect(firstKnownFrom(held, instant)).toBe(known.find((at) => at >= instant) ?? Infinity);
        expect(lastKnownBefore(held, instant)).toBe(known.findLast((at) => at < instant) ?? -Infinity);
      }),
      { numRuns: 300 },
    );
  });

  it("take two or three bytes each where a meter speaks every minute", () => {
    const meter = packed(Array.from({ length: 10_000 }, (_, i): Pair => [i * 60_000, ((400 + ((i * 7) % 11)) / 100) * FOOT]), FOOT);
    expect(meter.bytes.length / meter.count).toBeLessThan(4);
    const contact = packed(Array.from({ length: 10_000 }, (_, i): Pair => [i * 60_000, i >> 12]));
    expect(contact.bytes.length / contact.count).toBeLessThan(2.1);
  });

  it("refuse to run backwards, and parts of a millisecond", () => {
    expect(() => packed([[5, 1], [4, 1]])).toThrow(RangeError);
    expect(() => packed([[0.5, 1]])).toThrow(RangeError);
  });
});
