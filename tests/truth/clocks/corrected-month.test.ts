import { beforeAll, describe, expect, test } from "vitest";
import { judgedMonth, monthText, type Month } from "./month.js";

/** The same simulated month three times: with equal clocks, with one clock 90 s behind, and with that corrected in the site file. */
let equal: Month;
let apart: Month;
let corrected: Month;
beforeAll(async () => {
  equal = await judgedMonth(monthText(""));
  apart = await judgedMonth(monthText("behind: 90s"));
  corrected = await judgedMonth(monthText("behind: 90s, site: { clock_correction: 90s }"));
});

const clock = (findings: Month) => findings.clocks[0]!;

describe("a month with clocks 90 s apart", () => {
  test("scores, once corrected, exactly as one with equal clocks", () => {
    expect(corrected.signals).toEqual(equal.signals);
    expect(corrected.episodes).toEqual(equal.episodes);
    expect(corrected.rules).toEqual(equal.rules);
  });

  test("does not score so before: nothing is corrected unasked", () => {
    expect(apart.signals.find(({ signal }) => signal === "mat")!.lagOn.median.value).not.toBe(equal.signals.find(({ signal }) => signal === "mat")!.lagOn.median.value);
    expect(apart.rules[0]!.wanted.served).toBeLessThan(equal.rules[0]!.wanted.served);
  });

  test("is found out: the offset lies within its interval, and no correction is advised on the word of one pair of sensors", () => {
    const { offset, suggestion, note } = clock(apart);
    expect(offset.low!).toBeLessThanOrEqual(-85);
    expect(offset.high!).toBeGreaterThanOrEqual(-95);
    expect(suggestion).toBeNull();
    expect(note).toContain("sensors of each source");
  });

  test("strains a rule whose window is a minute", () => {
    expect(clock(apart).strained.map(({ rule }) => rule)).toEqual(["unlock"]);
    expect(clock(equal).strained).toEqual([]);
  });

  test("corrected, or with equal clocks, needs no correction", () => {
    expect(clock(equal).suggestion).toBeNull();
    expect(clock(corrected)).toMatchObject({ suggestion: null, correctedSeconds: [0, 90], offset: clock(equal).offset });
  });
});
