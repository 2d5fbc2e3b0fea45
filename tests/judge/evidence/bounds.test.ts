import { describe, expect, it } from "vitest";
import { boundsOf, wantedStillNeeded, type RuleCounted } from "../../../src/judge/evidence/bounds.js";

/** A rule with nothing wrong but what is given; its faults came on so many days, one a day, that none expects bad spells. */
const counted = (more: Partial<RuleCounted>): RuleCounted => ({
  wrongOccasions: [], unverifiedFirings: 0, yearsSeen: 1, yearsConfirmed: 1, expectedUnverified: { firings: 0, wanted: 0 }, failureRuns: [], wanted: 40, unverifiedWanted: 0,
  checked: [], faultsByDay: new Array<number>(100).fill(1), daysSeen: 200, variants: 1, ...more,
});
const missedUpper = (more: Partial<RuleCounted>): number => boundsOf(counted(more), 0.95).missedUpper;
const needed = (more: Partial<RuleCounted>, limit = 0.1): number => wantedStillNeeded(counted(more), limit, 0.95) ?? NaN;

describe("how many more wanted instants are needed", () => {
  // Runs of 6 and 2 with another of 6 to come: (36 + 4 + 36) / 14 = 5.43 events to a clump.
  const clumps = { failureRuns: [6, 2] };

  it("is as many as bring the bound down to the limit when failures come in runs, and less than a run fewer is too few", () => {
    const more = needed(clumps);
    expect(missedUpper({ ...clumps, wanted: 40 + more })).toBeLessThanOrEqual(0.1);
    expect(missedUpper({ ...clumps, wanted: 40 + more - 6 })).toBeGreaterThan(0.1);
  });

  it("counts from what was wanted: the more there was, the fewer are needed", () => {
    expect(needed({ ...clumps, wanted: 100 })).toBeGreaterThan(0);
    expect(Math.abs(needed({ ...clumps, wanted: 100 }) - (needed(clumps) - 60))).toBeLessThan(6);
  });

  it("is known also where there were fewer wanted instants than runs count for", () => {
    const more = needed({ ...clumps, wanted: 8 });
    expect(missedUpper({ ...clumps, wanted: 8 + more })).toBeLessThanOrEqual(0.1);
    expect(missedUpper({ ...clumps, wanted: 8 + more - 6 })).toBeGreaterThan(0.1);
  });

  it("is larger the longer the runs are in which as many failures came", () => {
    expect(needed({ failureRuns: [4, 4] })).toBeGreaterThan(needed({ failureRuns: [1, 1, 1, 1, 1, 1, 1, 1] }));
  });

  it("is not one too many for a rounding error", () => {
    // Two runs of three, with another of three to come: three events to a clump.
    const runs = { failureRuns: [3, 3] };
    for (const limit of [0.05, 0.1, 0.2]) {
      for (let wanted = 20; wanted < 120; wanted += 1) expect(needed({ ...runs, wanted }, limit) % 3).toBe(0);
    }
  });

  it("is nothing where the bound is at the limit already, and unknown where no number is enough", () => {
    expect(needed({ wanted: 4000 })).toBe(0);
    expect(wantedStillNeeded(counted(clumps), 0, 0.95)).toBeNull();
  });
});
