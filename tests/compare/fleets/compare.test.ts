import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { compareGroups } from "../../../src/compare/fleets/compare.js";
import type { Counted } from "../../../src/compare/fleets/counted.js";
import { usualOf } from "../../../src/compare/fleets/usual.js";

const alone = (count: number): number[][] => Array.from({ length: count }, (_, i) => [i]);
/** Twenty alike, a hundred turns each, about two faults. */
const fellows: Counted[] = Array.from({ length: 20 }, (_, i) => ({ count: [2, 1, 3, 2, 2][i % 5]!, exposure: 2 }));

describe("members among their fellows", () => {
  it("calls one with ten times the faults worse, and its fellows not", () => {
    const standings = compareGroups([...fellows, { count: 20, exposure: 2 }], alone(21), 0.95);
    expect(standings[20]!.pValue).toBeLessThan(1e-4);
    expect(standings[20]!.controlHigh).toBeLessThan(20);
    expect(standings[20]!.expected).toBeCloseTo(2, 1);
    expect(Math.min(...standings.slice(0, 20).map((one) => one.pValue!))).toBeGreaterThan(0.1);
  });

  it("calls a bay with three arrivals neither best nor worst, although one in three was missed, or none", () => {
    const members = [...fellows, { count: 1, exposure: 0.06 }, { count: 0, exposure: 0.06 }];
    const standings = compareGroups(members, alone(22), 0.95);
    const ratios = standings.map((one) => one.pooledRatio!);
    const raw = members.map((one) => one.count / one.exposure);
    // By the raw rates the two are the worst and the best of all.
    expect(raw.indexOf(Math.max(...raw))).toBe(20);
    expect(raw.indexOf(Math.min(...raw))).toBe(21);
    expect(ratios[20]).toBeLessThan(1.02);
    expect(ratios[21]).toBeGreaterThan(0.98);
    expect(ratios[20]! - ratios[21]!).toBeLessThan(0.03);
    expect(standings[20]!.pValue).toBeGreaterThan(0.05);
  });

  it("says nothing where there are too few fellows", () => {
    const standings = compareGroups([{ count: 9, exposure: 1 }, { count: 1, exposure: 5 }, { count: 1, exposure: 5 }], alone(3), 0.95);
    expect(standings.map((one) => one.pValue)).toEqual([null, null, null]);
    expect(standings.map((one) => one.count)).toEqual([9, 1, 1]);
  });

  it("says nothing of one that was never watched", () => {
    expect(compareGroups([...fellows, { count: 0, exposure: 0 }], alone(21), 0.95)[20]!.pooledRatio).toBeNull();
  });

  it("takes what differs by nature for ordinary: the same count is no alarm among unlike fellows", () => {
    const unlike: Counted[] = Array.from({ length: 30 }, (_, i) => ({ count: [1, 4, 9, 16, 30, 0][i % 6]!, exposure: 10 }));
    const alike: Counted[] = Array.from({ length: 30 }, (_, i) => ({ count: 10 + (i % 3) - 1, exposure: 10 }));
    const suspect = { count: 28, exposure: 10 };
    expect(compareGroups([...unlike, suspect], alone(31), 0.95)[30]!.pValue).toBeGreaterThan(0.03);
    expect(compareGroups([...alike, suspect], alone(31), 0.95)[30]!.pValue).toBeLessThan(1e-3);
  });

  it("does not let the bad one widen the yardstick it is measured with", () => {
    const few = (bad: number): Counted[] => [...Array.from({ length: 5 }, () => ({ count: 4, exposure: 4 })), { count: bad, exposure: 4 }];
    const [bad, worse] = [60, 600].map((count) => compareGroups(few(count), alone(6), 0.95)[5]!);
    expect(worse).toMatchObject({ expected: bad!.expected, controlHigh: bad!.controlHigh });
    expect(bad!.controlHigh).toBeLessThan(60);
    // Nor is it drawn to 1 as if there could be none so bad: the raw ratio to the others is 15.
    expect(bad!.pooledRatio).toBeGreaterThan(3.5);
  });

  it("does not let one bad unit hide another: both stand out, and neither moves what is expected of the others", () => {
    const two = compareGroups([...fellows, ...fellows, { count: 40, exposure: 2 }, { count: 400, exposure: 2 }], alone(42), 0.95);
    expect(two[40]!.pValue).toBeLessThan(1e-4);
    expect(two[0]!.expected).toBeCloseTo(2, 0);
  });

  it("stands units that are alike alike, and each as if it were asked for alone", () => {
    const few: Counted[] = [...fellows, { count: 11, exposure: 3.5 }];
    const together = compareGroups(few, alone(21), 0.95);
    expect(together).toEqual(few.map((_, i) => compareGroups(few, [[i]], 0.95)[0]));
  });

  it("calls the only one that ever flickered worse, where all others never did", () => {
    const never: Counted[] = Array.from({ length: 12 }, () => ({ count: 0, exposure: 1 }));
    const only = compareGroups([...never, { count: 12, exposure: 1 }], alone(13), 0.95)[12]!;
    expect(only.expected).toBe(0);
    expect(only.pValue! / (1 / 13) ** 12).toBeCloseTo(1, 6);
  });

  it("draws every pooled ratio from the raw one towards 1, and keeps it inside its interval", () => {
    const member = fc.record({ count: fc.integer({ min: 0, max: 40 }), exposure: fc.double({ min: 0.1, max: 40, noNaN: true }) });
    fc.assert(
      fc.property(fc.array(member, { minLength: 5, maxLength: 12 }), (members) => {
        const rateOfAll = usualOf(members)([]).rate;
        for (const [i, { count, pooledRatio, pooledLow, pooledHigh, pValue }] of compareGroups(members, alone(members.length), 0.95).entries()) {
          const raw = count / (members[i]!.exposure * rateOfAll);
          if (rateOfAll > 0) {
            expect(pooledRatio!).toBeGreaterThanOrEqual(Math.min(raw, 1) - 1e-9);
            expect(pooledRatio!).toBeLessThanOrEqual(Math.max(raw, 1) + 1e-9);
          }
          expect(pooledLow!).toBeLessThan(pooledRatio!);
          expect(pooledHigh!).toBeGreaterThan(pooledRatio!);
          expect(pValue!).toBeGreaterThanOrEqual(0);
          expect(pValue!).toBeLessThanOrEqual(1);
        }
      }),
      { numRuns: 60 },
    );
  });
});
