import { describe, expect, test } from "vitest";
import { usualLags } from "../../../src/compare/signals/usual-lags.js";
import type { SignalScore } from "../../../src/result/signals.js";
import { exampleFindings } from "../../report/example-findings.js";

const base = exampleFindings.signals[0]!;
type Figure = SignalScore["lagOn"]["p95"];
const figure = (value: number | null, high: number | null, count: number, low: number | null = value): Figure => ({ ...base.lagOn.p95, value, low, high, count });

/** A signal whose turns to on and to off came so late. */
function signal(on: { p95: Figure; median?: Figure }, off: { p95: Figure; median?: Figure } = { p95: figure(null, null, 0) }): SignalScore {
  const lag = (from: SignalScore["lagOn"], { p95, median = figure(1, 2, p95.count) }: typeof on): SignalScore["lagOn"] => ({ ...from, median, p95 });
  return { ...base, signal: "phone", lagOn: lag(base.lagOn, on), lagOff: lag(base.lagOff, off) };
}

const lagOf = (one: SignalScore) => usualLags([one]).get("phone");

describe("how late a signal usually tells", () => {
  test("is the upper end of what nineteen in twenty turns keep to, or that figure itself", () => {
    expect(lagOf(signal({ p95: figure(40, 55, 30) }))?.mostMs).toBe(55_000);
    expect(lagOf(signal({ p95: figure(40, null, 30) }))?.mostMs).toBe(40_000);
  });

  test("is the later of its turns to on and to off", () => {
    expect(lagOf(signal({ p95: figure(40, 55, 30) }, { p95: figure(70, 90, 30) }))?.mostMs).toBe(90_000);
  });

  test("takes only turns of which ten or more were seen", () => {
    expect(lagOf(signal({ p95: figure(40, 55, 10) }))?.mostMs).toBe(55_000);
    expect(lagOf(signal({ p95: figure(40, 55, 9) }))).toBeUndefined();
    expect(lagOf(signal({ p95: figure(40, 55, 30) }, { p95: figure(70, 90, 9) }))?.mostMs).toBe(55_000);
  });

  test("is never less than none, and how early it tells is kept apart", () => {
    expect(lagOf(signal({ p95: figure(-9, -2, 30), median: figure(-20, -12, 30, -25) }))).toEqual({ leastMs: -25_000, mostMs: 0 });
  });
});
