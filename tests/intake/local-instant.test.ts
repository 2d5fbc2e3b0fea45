import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { localDayStart, localInstant, offsetMs, wallClockMs } from "../../src/intake/local-instant.js";

const iso = (instant: number): string => new Date(instant).toISOString();

describe("a local time placed on the line of instants", () => {
  it("is found by its zone's offset", () => {
    expect(localInstant(wallClockMs(2026, 7, 1, 12), "Europe/London")).toEqual({ instant: Date.UTC(2026, 6, 1, 11), kind: "once" });
    expect(localInstant(wallClockMs(2026, 7, 1, 12), "UTC")).toEqual({ instant: Date.UTC(2026, 6, 1, 12), kind: "once" });
  });

  it("knows half-hour clock changes", () => {
    // Lord Howe Island puts its clocks back by half an hour.
    const wall = wallClockMs(2026, 4, 5, 1, 45);
    const first = localInstant(wall, "Australia/Lord_Howe");
    const second = localInstant(wall, "Australia/Lord_Howe", "second");
    expect([first.kind, second.kind]).toEqual(["first", "second"]);
    expect(second.instant - first.instant).toBe(30 * 60_000);
  });

  it("agrees with trying every offset", () => {
    const zones = fc.constantFrom("Europe/London", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu", "America/Sao_Paulo", "Africa/Casablanca", "Pacific/Apia", "UTC");
    const start = Date.UTC(2010, 0);
    const walls = fc.integer({ min: 0, max: 20 * 366 * 96 }).map((quarters) => start + quarters * 900_000);
    // Half of the cases near clock changes, where it matters.
    const nearChanges = fc.constantFrom(Date.UTC(2026, 2, 29, 1), Date.UTC(2026, 9, 25, 1), Date.UTC(2026, 3, 5, 1, 30), Date.UTC(2018, 10, 4), Date.UTC(2011, 11, 30)).chain((at) => fc.integer({ min: -20, max: 20 }).map((quarters) => at + quarters * 900_000));
    fc.assert(
      fc.property(fc.oneof(walls, nearChanges), zones, (wall, zone) => {
        const fitting: number[] = [];
        for (let offset = 15; offset >= -15; offset -= 0.25) {
          const instant = wall - offset * 3_600_000;
          if (instant + offsetMs(instant, zone) === wall) fitting.push(instant);
        }
        const found = localInstant(wall, zone);
        if (fitting.length === 0) expect(found.kind).toBe("skipped");
        if (fitting.length === 1) expect(found).toEqual({ instant: fitting[0], kind: "once" });
        if (fitting.length === 2) expect([found, localInstant(wall, zone, "second")]).toEqual([{ instant: fitting[0], kind: "first" }, { instant: fitting[1], kind: "second" }]);
      }),
      { numRuns: 300 },
    );
  });

  it("refuses a zone that is none", () => {
    expect(() => localInstant(0, "Europe/Atlantis")).toThrow(RangeError);
  });
});

describe("the start of a local day", () => {
  it("is local midnight", () => {
    expect(iso(localDayStart(2026, 10, 1, "Europe/London"))).toBe("2026-09-30T23:00:00.000Z");
  });

  it("is the instant of the change where midnight was skipped", () => {
    // Sao Paulo put its clocks forward at midnight: the day began at 01:00.
    expect(iso(localDayStart(2018, 11, 4, "America/Sao_Paulo"))).toBe("2018-11-04T03:00:00.000Z");
  });

  it("is the first of two midnights", () => {
    // Havana puts its clocks back from 01:00 to 00:00.
    expect(iso(localDayStart(2026, 11, 1, "America/Havana"))).toBe("2026-11-01T04:00:00.000Z");
  });

  it("is where the next day began for a day that was skipped whole", () => {
    // Apia crossed the date line: there was no 30 December 2011.
    expect(iso(localDayStart(2011, 12, 30, "Pacific/Apia"))).toBe("2011-12-30T10:00:00.000Z");
    expect(iso(localDayStart(2011, 12, 31, "Pacific/Apia"))).toBe("2011-12-30T10:00:00.000Z");
  });
});

describe("what a wall clock shows", () => {
  it("keeps years before 100 as they are", () => {
    expect(iso(wallClockMs(37, 1, 2))).toBe("0037-01-02T00:00:00.000Z");
  });
});
