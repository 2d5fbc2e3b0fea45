import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { timeTicks } from "../../../src/report/charts/time-ticks.js";
import { localClock } from "../../../src/report/local-time.js";

describe("ticks of a time axis", () => {
  it("fall on round times of the site's own clock", () => {
    const clock = localClock("Asia/Kathmandu");
    const from = Date.parse("2026-10-09T12:00:00Z");
    expect(timeTicks(from, from + 4 * 3_600_000, 4, clock).map((tick) => tick.label)).toEqual(["18:00", "19:00", "20:00", "21:00"]);
  });

  it("carry seconds only where they are less than a minute apart, and the offset in the repeated hour", () => {
    const clock = localClock("Europe/London");
    const from = Date.parse("2026-10-25T00:58:30Z");
    expect(timeTicks(from, from + 60_000, 4, clock).map((tick) => tick.label)).toEqual(["01:58:30 (UTC+1)", "01:58:45 (UTC+1)", "01:59:00 (UTC+1)", "01:59:15 (UTC+1)", "01:59:30 (UTC+1)"]);
    expect(timeTicks(from, from + 600_000, 3, clock).map((tick) => tick.label)).toEqual(["01:00 (UTC)", "01:05 (UTC)"]);
  });

  it("stay inside and few", () => {
    const clock = localClock("Europe/London");
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 2e12 }), fc.integer({ min: 1000, max: 30 * 86_400_000 }), fc.integer({ min: 2, max: 8 }), (from, length, most) => {
        const ticks = timeTicks(from, from + length, most, clock);
        expect(ticks.length).toBeLessThanOrEqual(most + 1);
        expect(ticks.every((tick) => tick.at >= from && tick.at <= from + length)).toBe(true);
      }),
      { numRuns: 60 },
    );
  });
});
