import { describe, expect, it } from "vitest";
import { failureRuns, OCCASION_MS, occasionSizes, occasionStarts, runStarts } from "../../../src/judge/evidence/occasions.js";
import { min } from "../small-site.js";

describe("wrong firings less than six hours apart", () => {
  it("are one occasion, each joined to the one before", () => {
    expect(occasionSizes([0, min(10), min(300), min(700), min(2000)])).toEqual([3, 1, 1]);
    expect(occasionSizes([0, OCCASION_MS - 1])).toEqual([2]);
    expect(occasionSizes([0, OCCASION_MS])).toEqual([1, 1]);
    expect(occasionSizes([])).toEqual([]);
    expect(occasionStarts([0, min(10), min(300), min(700), min(2000)])).toEqual([0, min(700), min(2000)]);
  });
});

describe("failures in a row", () => {
  it("are one run, which a success ends", () => {
    expect(failureRuns([true, true, false, true, false, false, true, true, true])).toEqual([2, 1, 3]);
    expect(failureRuns([false, false])).toEqual([]);
    expect(runStarts([true, true, false, true])).toEqual([0, 3]);
  });
});
