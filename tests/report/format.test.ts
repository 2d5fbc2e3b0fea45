import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { amountText, contrastTexts, countOf, type Figure, figureLine, figureText, lengthText, shareText } from "../../src/report/format.js";

const figure = (parts: Partial<Figure>): Figure => ({ value: null, low: null, high: null, count: 0, unit: "share", why: null, ...parts });
const line = (parts: Partial<Figure>): string => figureLine(figure(parts)).replaceAll("\u00a0", " ");

describe("a figure on one line", () => {
  it.each([
    [{ value: 0.982, low: 0.961, high: 0.992, count: 84 }, "0.982 (0.961–0.992), n = 84"],
    [{ value: 0, low: 0, high: 0.0430, count: 84 }, "0 (0–0.043), n = 84"],
    [{ value: 0.99997, low: 0.97, high: 1, count: 9000 }, "> 0.999 (0.970–1), n = 9,000"],
    [{ value: 35.35, low: 7.289, high: 103.3, count: 3, unit: "per year" }, "35 a year (7–103), n = 3"],
    [{ value: 17.5, low: 13.2, high: 22, count: 42, unit: "seconds" }, "17.5 s (13.2–22.0), n = 42"],
    [{ value: 213, low: 148.8, high: 277.2, count: 46, unit: "seconds" }, "3.6 min (2.5–4.6), n = 46"],
    [{ value: -1.1, low: -2, high: 0.5, count: 8, unit: "seconds" }, "−1.1 s (−2.0 to 0.5), n = 8"],
    [{ value: 0.9, low: -0.1, high: 1, count: 8, unit: "kappa" }, "0.90 (−0.10 to 1), n = 8"],
    [{ value: 46, low: 40, high: null, count: 19, unit: "seconds", why: "too few" }, "46.0 s (from 40.0), n = 19; too few"],
    [{ value: 46, low: null, high: null, count: 1, unit: "seconds", why: "too few" }, "46.0 s (no interval), n = 1; too few"],
    [{ value: 0.999517, low: 0.920462, high: 0.999997, count: 44 }, "> 0.999 (0.920 to > 0.999), n = 44"],
    [{ value: 0.9823, low: 0.98177, high: 0.98282, count: 250_000 }, "0.9823 (0.9818–0.9828), n = 250,000"],
    [{ value: 0.0004, low: 0.00001, high: 0.03, count: 12 }, "< 0.001 (< 0.001 to 0.030), n = 12"],
    [{ value: 11.8, low: 0.2979, high: 65.6, count: 1, unit: "per year" }, "12 a year (0.3–66), n = 1"],
    [{ value: 1234.4, low: 1100, high: 1400, count: 90, unit: "per year" }, "1,234 a year (1,100–1,400), n = 90"],
    [{ value: 12, low: 12, high: 12, count: 30, unit: "seconds" }, "12.0 s (12.0–12.0), n = 30"],
    [{ why: "nothing was counted" }, "no value: nothing was counted, n = 0"],
  ])("%o reads %s", (parts, text) => {
    expect(line(parts)).toBe(text);
  });
});

describe("shares", () => {
  it("are never written as 0 or 1 unless they are", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.000001, max: 0.999999, noNaN: true }), (share) => {
        const [, bound = "", digits = ""] = /^([<>] )?(.*)$/.exec(shareText(share)) ?? [];
        expect(Number(digits)).toBeGreaterThan(0);
        expect(Number(digits)).toBeLessThan(1);
        if (bound === "") expect(Math.abs(Number(digits) - share)).toBeLessThanOrEqual(0.0005 + 1e-12);
        else expect(bound === "< " ? share < Number(digits) : share > Number(digits)).toBe(true);
      }),
    );
    expect([0, 1, 0.00004, 0.99996].map((share) => shareText(share))).toEqual(["0", "1", "< 0.001", "> 0.999"]);
  });
});

describe("a figure with an interval", () => {
  it("shows two significant digits of its half-width, or a little more, and never a bound that is not so", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true }), (...ends) => {
        const [low, value, high] = ends.sort((a, b) => a - b);
        const interval = figureText(figure({ value, low, high, count: 5 })).interval ?? "";
        if (high - low > 0.02) expect(interval.replace(/[^–.\d]/g, "").length).toBeLessThanOrEqual(11);
        expect(interval.startsWith("0–") || interval.startsWith("0 to")).toBe(low === 0);
        expect(/[– ]1$/.test(interval)).toBe(high === 1);
      }),
    );
  });
});

describe("amounts", () => {
  it("keep three significant digits", () => {
    expect([0, 0.5, 12.34, 123.4, 1234.5, 44_640, 0.00012, -3.456].map((amount) => amountText(amount))).toEqual(["0", "0.5", "12.3", "123", "1,235", "44,640", "0.00012", "−3.46"]);
  });
});

describe("a measured number beside its limit", () => {
  it("reads as different whenever it is", () => {
    expect(contrastTexts(0.5003, 0.5, "per year")).toEqual(["0.5003 a year", "0.5 a year"]);
    expect(contrastTexts(0.10004, 0.1, "share")).toEqual(["10.004\u00a0%", "10\u00a0%"]);
    expect(contrastTexts(1234.4, 1234, "per year")).toEqual(["1,234.4 a year", "1,234 a year"]);
    expect(contrastTexts(2, 0, "signals")).toEqual(["2", "0"]);
    expect(contrastTexts(null, null, "share")).toEqual([null, null]);
  });

  it("claims no more than it may: a bound from above is rounded up, one from below down", () => {
    expect(contrastTexts(0.11008, 0.1, "share", "up")).toEqual(["11.1\u00a0%", "10\u00a0%"]);
    expect(contrastTexts(35.3101, 40, "per year", "up")).toEqual(["35.4 a year", "40 a year"]);
    expect(contrastTexts(0.6039, 0.5, "per year", "down")).toEqual(["0.603 a year", "0.5 a year"]);
    expect(contrastTexts(0.4996, 0.5, "per year", "up")).toEqual(["0.4996 a year", "0.5 a year"]);
  });

  it("never reads as equal to a limit it is above", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 5000, noNaN: true }), fc.double({ min: 1e-7, max: 0.1, noNaN: true }), (limit, excess) => {
        const [measured, written] = contrastTexts(limit * (1 + excess), limit, "per year");
        expect(measured).not.toBe(written);
      }),
    );
  });
});

describe("lengths of time and counts", () => {
  it("are said as people say them", () => {
    expect([0, 1.25, 42, 200, 7500, 90_000, 200_000, -61].map(lengthText)).toEqual(["0 s", "1.3 s", "42 s", "3 min 20 s", "2 h 5 min", "1 day 1 h", "2 days 7 h", "−1 min 1 s"]);
    expect([countOf(1, "signal"), countOf(8, "signal"), countOf(2, "entry", "entries")]).toEqual(["1 signal", "8 signals", "2 entries"]);
  });
});
