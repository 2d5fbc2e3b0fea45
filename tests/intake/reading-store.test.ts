import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PackedReadings } from "../../src/intake/packed-readings.js";
import { makeReadingStore } from "../../src/intake/reading-store.js";
import { packed, pairsOf } from "./packed.js";

const LARGE_EXPORT_BYTES = 2 ** 30;

const readings = fc.array(fc.tuple(fc.nat(1e6), fc.double()), { maxLength: 200 }).map((list) => packed(list.toSorted(([a], [b]) => a - b)));

describe("a store of readings", () => {
  it("gives back what it was given, to the bit, however much follows", () => {
    fc.assert(
      fc.property(fc.array(readings, { maxLength: 12 }), (all) => {
        const keep = makeReadingStore(LARGE_EXPORT_BYTES);
        const kept = all.map(keep);
        expect(kept).toEqual(all);
        expect(pairsOf({ parts: kept })).toEqual(pairsOf({ parts: all }));
      }),
    );
  });

  it("needs nothing of what it was given any more, and puts all side by side", () => {
    const given = [packed([[1000, 1.5], [2000, 2.5]]), packed([[3000, 7]])];
    const keep = makeReadingStore(LARGE_EXPORT_BYTES);
    const kept = given.map(keep);
    for (const { bytes, marks } of given) {
      bytes.fill(0);
      marks.fill(0);
    }
    expect(pairsOf({ parts: kept })).toEqual([[1000, 1.5], [2000, 2.5], [3000, 7]]);
    expect(new Set(kept.flatMap(({ bytes, marks }) => [bytes.buffer, marks.buffer])).size).toBe(1);
  });

  it("begins a new block where one is full, and takes what is larger than any", () => {
    const long: PackedReadings = { ...packed([[1, 1]]), bytes: new Uint8Array(40 * 2 ** 20).fill(7) };
    const keep = makeReadingStore(LARGE_EXPORT_BYTES);
    const [before, large, after] = [keep(packed([[5, 5]])), keep(long), keep(packed([[6, 6]]))];
    expect(large.bytes.length).toBe(long.bytes.length);
    expect(large.bytes.every((byte) => byte === 7)).toBe(true);
    expect(pairsOf({ parts: [before, after] })).toEqual([[5, 5], [6, 6]]);
  });

  it("leaves little as it is", () => {
    const given = packed([[1000, 1.5]]);
    expect(makeReadingStore(1_000_000)(given)).toBe(given);
  });
});
