import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FaultRecord } from "../../../src/compare/bays/bay-faults.js";
import { compareFaults } from "../../../src/compare/bays/bay-faults.js";

/** Bays whose signals never had to be judged in pairs. */
const alone = { differing: 0, pairExposure: 0 };
const quiet: FaultRecord = { missed: 1, turns: 100, phantoms: 1, exposure: 30, ...alone };

describe("bays compared by their faults", () => {
  test("the bay with five times the others' faults stands out, and only that one", () => {
    const faults = compareFaults([quiet, quiet, quiet, { ...quiet, missed: 8, phantoms: 7 }, quiet, quiet], 0.95);
    expect(faults.map((one) => one.standsOut)).toEqual([false, false, false, true, false, false]);
    expect(faults[3]).toMatchObject({ count: 15, controlLow: 0 });
    expect(faults[3]!.expected).toBeCloseTo(2);
    expect(faults[3]!.controlHigh).toBeLessThan(15);
  });
  test("a bay that is better than the others does not stand out", () => {
    const usual = { missed: 20, turns: 100, phantoms: 20, exposure: 30, ...alone };
    const faults = compareFaults([{ ...usual, missed: 0, phantoms: 0 }, usual, usual, usual, usual, usual, usual], 0.95);
    expect(faults[0]!.adjustedPValue).toBeLessThan(0.05);
    expect(faults.map((one) => one.standsOut)).toEqual(Array(7).fill(false));
  });
  test("a busy bay that misses as small a share as the others is as expected", () => {
    const faults = compareFaults([quiet, quiet, { missed: 10, turns: 1000, phantoms: 1, exposure: 30, ...alone }], 0.95);
    expect(faults[2]).toMatchObject({ count: 11, standsOut: false });
    expect(faults[2]!.expected).toBeCloseTo(11, 6);
  });
  test("two bays are not compared, nor bays that nobody could watch", () => {
    const unseen: FaultRecord = { missed: 0, turns: 0, phantoms: 0, exposure: 0, ...alone };
    for (const one of compareFaults([quiet, { ...quiet, missed: 50 }, unseen], 0.95)) {
      expect(one).toMatchObject({ expected: null, controlLow: null, controlHigh: null, pValue: null, adjustedPValue: null, standsOut: false });
    }
    expect(compareFaults([quiet, quiet, quiet, unseen], 0.95)[3]!.expected).toBeNull();
  });
  test("two signals that differ are one fault of their bay", () => {
    const pairs = { ...quiet, missed: 0, turns: 0, phantoms: 0, exposure: 0, differing: 2, pairExposure: 30 };
    const faults = compareFaults([pairs, pairs, pairs, { ...pairs, differing: 15 }, pairs, pairs], 0.95);
    expect(faults.map(({ count, standsOut }) => [count, standsOut])).toEqual([[2, false], [2, false], [2, false], [15, true], [2, false], [2, false]]);
  });
  test("a fleet without a single fault has nothing to say", () => {
    const clean = { ...quiet, missed: 0, phantoms: 0 };
    expect(compareFaults([clean, clean, clean], 0.95)[0]).toEqual({ count: 0, expected: 0, controlLow: 0, controlHigh: 0, pValue: 1, adjustedPValue: 1, standsOut: false });
  });
  test("any records give probabilities, adjusted never below unadjusted", () => {
    const record = fc.record({ missed: fc.nat(9), more: fc.nat(50), phantoms: fc.nat(9), exposure: fc.integer({ min: 1, max: 60 }) }).map(({ missed, more, phantoms, exposure }): FaultRecord => ({ missed, turns: missed + more, phantoms, exposure, ...alone }));
    fc.assert(
      fc.property(fc.array(record, { minLength: 3, maxLength: 12 }), (records) => {
        for (const one of compareFaults(records, 0.95)) {
          expect(one.pValue).toBeGreaterThanOrEqual(0);
          expect(one.adjustedPValue).toBeGreaterThanOrEqual(one.pValue!);
          expect(one.adjustedPValue).toBeLessThanOrEqual(1);
          expect(one.controlHigh).toBeGreaterThanOrEqual(one.controlLow!);
        }
      }),
    );
  });
});
