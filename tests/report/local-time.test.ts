import { describe, expect, it } from "vitest";
import { localClock } from "../../src/report/local-time.js";

describe("a clock of the site's zone", () => {
  const london = localClock("Europe/London");

  it("writes wall time, and the offset only in the hour that comes twice", () => {
    const write = (iso: string): string => london.moment(Date.parse(iso));
    expect(write("2026-10-24T23:59:59.000Z")).toBe("Sun 25 Oct 2026, 00:59:59");
    expect(write("2026-10-25T00:00:00.000Z")).toBe("Sun 25 Oct 2026, 01:00:00 (UTC+1)");
    expect(write("2026-10-25T00:59:59.999Z")).toBe("Sun 25 Oct 2026, 01:59:59 (UTC+1)");
    expect(write("2026-10-25T01:00:00.000Z")).toBe("Sun 25 Oct 2026, 01:00:00 (UTC)");
    expect(write("2026-10-25T02:00:00.000Z")).toBe("Sun 25 Oct 2026, 02:00:00");
    expect(write("2026-03-29T01:00:00.000Z")).toBe("Sun 29 Mar 2026, 02:00:00");
    expect(write("2026-07-01T00:00:00.000Z")).toBe("Wed 1 Jul 2026, 01:00:00");
  });

  it("knows offsets of half and of quarter hours, and clock changes of half an hour", () => {
    expect(localClock("Asia/Kathmandu").offset(Date.parse("2026-07-01T00:00:00Z"))).toBe("UTC+5:45");
    expect(localClock("America/St_Johns").offset(Date.parse("2026-01-01T00:00:00Z"))).toBe("UTC−3:30");
    // Lord Howe Island sets its clocks back by 30 minutes on 5 April 2026 at 02:00 local time (15:00 UTC the day before).
    const lordHowe = localClock("Australia/Lord_Howe");
    expect(lordHowe.time(Date.parse("2026-04-04T14:45:00Z"))).toBe("01:45:00 (UTC+11)");
    expect(lordHowe.time(Date.parse("2026-04-04T15:15:00Z"))).toBe("01:45:00 (UTC+10:30)");
    expect(lordHowe.time(Date.parse("2026-04-04T14:15:00Z"))).toBe("01:15:00");
  });

  it("falls back to UTC and says so when the zone is unknown", () => {
    const lost = localClock("Nowhere/Land");
    expect(lost.zone).toBe("UTC, because “Nowhere/Land” is no time zone known here");
    expect(lost.time(Date.parse("2026-07-01T12:00:00Z"))).toBe("12:00:00");
  });
});
