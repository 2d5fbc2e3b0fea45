import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { durationText, parseDurationMs } from "../../src/ground/duration.js";

describe("parseDurationMs", () => {
  it.each([
    ["500ms", 500], ["20s", 20_000], ["3min", 180_000], ["1h", 3_600_000], ["2h30min", 9_000_000], ["2h 30min", 9_000_000],
    ["1.5h", 5_400_000], ["7d", 604_800_000], ["-90s", -90_000], [" 20 s ", 20_000], ["0s", 0], ["0.5ms", 1],
  ])("reads %j as %d ms", (text, ms) => expect(parseDurationMs(text)).toBe(ms));

  it.each(["20", "", "-", "3m", "s", "20 seconds", "30min2h", "1h1h", "1e3s", "--5s", "- 5s", "5s -3s", "∞s", "1h,30min", "20S", "1h  30min"])("refuses %j", (text) =>
    expect(parseDurationMs(text)).toBeNull(),
  );

  it("gives plain zero for a negative nothing", () => expect(Object.is(parseDurationMs("-0s"), 0)).toBe(true));
});

describe("durationText", () => {
  it.each([[0, "0 s"], [500, "500 ms"], [20_000, "20 s"], [120_000, "2 min"], [5_400_000, "1 h 30 min"], [-90_000, "-1 min 30 s"], [90_061_001, "1 d 1 h 1 min 1 s 1 ms"]])(
    "says %d ms as %j",
    (ms, text) => expect(durationText(ms)).toBe(text),
  );

  it("is read back as the same duration", () => {
    fc.assert(fc.property(fc.integer({ min: -4e11, max: 4e11 }), (ms) => {
        expect(parseDurationMs(durationText(ms))).toBe(ms);
      }));
  });
});
