import { describe, expect, it } from "vitest";
import { failureRuns, occasionSizes } from "../../../src/judge/evidence/occasions.js";
import { min } from "../small-site.js";

describe("wrong firings less than six hours apart", () => {
  it("are one occasion, each joined to the one before", () => {
    expect(occasionSizes([0, min(10), min(300), min(700), min(2000)])).toEqual([3, 1, 1]);
    expect(occasionSizes([0, min(360) - 1])).toEqual([2]);
    expect(occasionSizes([0, min(360)])).toEqual([1, 1]);
    expect(occasionSizes([])).toEqual([]);
  });
});

describe("failures in a row", () => {
  it("are one run, which a success ends", () => {
    expect(failureRuns([true, true, false, true, false, false, true, true, true])).toEqual([2, 1, 3]);
    expect(failureRuns([false, false])).toEqual([]);
  });
});
