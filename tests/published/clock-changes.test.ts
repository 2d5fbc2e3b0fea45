/**
 * Source: the clock changes of 2026 in the IANA time zone database, as `zdump` lists them.
 * Mark: (S), seen in the output of `zdump`.
 */
import { describe, expect, it } from "vitest";
import { localDayStart, localInstant, wallClockMs, type LocalInstant } from "../../src/intake/local-instant.js";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const at = (iso: string): number => Date.parse(iso);
/** A local time of 2026. */
const local = (month: number, day: number, hour: number, minute: number): number => wallClockMs(2026, month, day, hour, minute);

describe.each([
  { zone: "Europe/London", change: "2026-03-29T01:00Z", month: 3, day: 29, hour: 1 },
  { zone: "America/New_York", change: "2026-03-08T07:00Z", month: 3, day: 8, hour: 2 },
])("$zone in spring 2026 (S)", ({ zone, change, month, day, hour }) => {
  it("skips the hour from the change on", () => {
    expect(localInstant(local(month, day, hour - 1, 59), zone)).toEqual({ instant: at(change) - MINUTE_MS, kind: "once" });
    for (const minute of [0, 30, 59]) expect(localInstant(local(month, day, hour, minute), zone).kind).toBe("skipped");
    expect(localInstant(local(month, day, hour + 1, 0), zone)).toEqual({ instant: at(change), kind: "once" });
  });

  it("shifts a skipped time forward by the hour that is missing", () => {
    expect(localInstant(local(month, day, hour, 30), zone).instant).toBe(localInstant(local(month, day, hour + 1, 30), zone).instant);
  });

  it("has a day of 23 hours", () => {
    expect(localDayStart(2026, month, day + 1, zone) - localDayStart(2026, month, day, zone)).toBe(23 * HOUR_MS);
  });
});

describe.each([
  { zone: "Europe/London", change: "2026-10-25T01:00Z", month: 10, day: 25, firstOffset: 1, secondOffset: 0 },
  { zone: "America/New_York", change: "2026-11-01T06:00Z", month: 11, day: 1, firstOffset: -4, secondOffset: -5 },
])("$zone in autumn 2026 (S)", ({ zone, change, month, day, firstOffset, secondOffset }) => {
  it("has the hour from 01:00 to 01:59 twice, the first time by summer time", () => {
    for (const minute of [0, 30, 59]) {
      const wall = local(month, day, 1, minute);
      const first: LocalInstant = { instant: wall - firstOffset * HOUR_MS, kind: "first" };
      const second: LocalInstant = { instant: wall - secondOffset * HOUR_MS, kind: "second" };
      expect(localInstant(wall, zone)).toEqual(first);
      expect(localInstant(wall, zone, "second")).toEqual(second);
    }
  });

  it("passes from one to the other at the change", () => {
    expect(localInstant(local(month, day, 1, 59), zone).instant).toBe(at(change) - MINUTE_MS);
    expect(localInstant(local(month, day, 1, 0), zone, "second").instant).toBe(at(change));
    expect(localInstant(local(month, day, 0, 59), zone).kind).toBe("once");
    expect(localInstant(local(month, day, 2, 0), zone)).toEqual({ instant: at(change) + HOUR_MS, kind: "once" });
  });

  it("has a day of 25 hours", () => {
    expect(localDayStart(2026, month, day + 1, zone) - localDayStart(2026, month, day, zone)).toBe(25 * HOUR_MS);
  });
});
