import { describe, expect, it } from "vitest";
import { makeStampReader } from "../../src/intake/stamp.js";
import { longSource } from "./example-site.js";

/** Reads stamps in file order: `HH:MM:SSZ` of the instant and the note. */
function readAll(stamps: readonly string[], parts: Parameters<typeof longSource>[0] = {}): string[] {
  const reader = makeStampReader(longSource(parts));
  return stamps.map((stamp) => {
    const instant = reader.read(stamp);
    return `${Number.isNaN(instant) ? "-" : new Date(instant).toISOString().slice(11, 19)} ${reader.note}`;
  });
}

describe("the reader of a file's stamps", () => {
  it("reads epochs in seconds, with a fraction, and in milliseconds", () => {
    const seconds = makeStampReader(longSource({ written: "epoch-s" }));
    expect(seconds.read("1790812800")).toBe(1_790_812_800_000);
    expect(seconds.read("1790812800.123")).toBe(1_790_812_800_123);
    expect(makeStampReader(longSource({ written: "epoch-ms" })).read(" 1790812800123 ")).toBe(1_790_812_800_123);
  });

  it.each(["", "-5", "1e9", "0x10", "1.2.3", ".", "now", "1790812800123"])("does not read %j as epoch seconds", (text) => {
    const reader = makeStampReader(longSource({ written: "epoch-s" }));
    expect(reader.read(text)).toBeNaN();
    expect(reader.note).toBe("unreadable");
  });

  it("places local stamps by the source's zone, and stamps with an offset by that", () => {
    expect(readAll(["2026-07-01T12:00:00", "2026-07-01T12:00:00+05:00"])).toEqual(["11:00:00 plain", "07:00:00 plain"]);
  });

  it("takes the second pass of a repeated hour where local time jumps back", () => {
    expect(readAll(["2026-10-25T00:59:00", "2026-10-25T01:10:00", "2026-10-25T01:50:00", "2026-10-25T01:05:00", "2026-10-25T01:55:00", "2026-10-25T02:05:00"])).toEqual([
      "23:59:00 plain",
      "00:10:00 repeated",
      "00:50:00 repeated",
      "01:05:00 repeated",
      "01:55:00 repeated",
      "02:05:00 plain",
    ]);
  });

  it("does not take devices a few seconds out of step for the change", () => {
    expect(readAll(["2026-10-25T01:10:05", "2026-10-25T01:10:02", "2026-10-25T01:20:00"])).toEqual(["00:10:05 repeated", "00:10:02 repeated", "00:20:00 repeated"]);
  });

  it("begins anew when the hour is met again, as in a file sorted by channel", () => {
    const night = ["2026-10-25T00:30:00", "2026-10-25T01:40:00", "2026-10-25T01:20:00", "2026-10-25T03:00:00"];
    const once = ["23:30:00 plain", "00:40:00 repeated", "01:20:00 repeated", "03:00:00 plain"];
    expect(readAll([...night, ...night])).toEqual([...once, ...once]);
  });

  it("meets the second pass first in a file that runs backwards", () => {
    expect(readAll(["2026-10-25T03:00:00", "2026-10-25T02:05:00", "2026-10-25T01:55:00", "2026-10-25T01:05:00", "2026-10-25T01:50:00", "2026-10-25T01:10:00", "2026-10-25T00:59:00"])).toEqual([
      "03:00:00 plain",
      "02:05:00 plain",
      "01:55:00 repeated",
      "01:05:00 repeated",
      "00:50:00 repeated",
      "00:10:00 repeated",
      "23:59:00 plain",
    ]);
  });

  it("sets a skipped local time aside, or shifts it by the gap", () => {
    expect(readAll(["2026-03-29T00:59:00", "2026-03-29T01:30:00", "2026-03-29T02:00:00"])).toEqual(["00:59:00 plain", "- skipped", "01:00:00 plain"]);
    expect(readAll(["2026-03-29T01:30:00"], { skippedHour: "shift" })).toEqual(["01:30:00 shifted"]);
  });

  it("tells apart the parts of an hour in which the clocks change by half an hour", () => {
    expect(readAll(["2026-04-05T01:15:00", "2026-04-05T01:45:00", "2026-04-05T01:31:00"], { zone: "Australia/Lord_Howe" })).toEqual(["14:15:00 plain", "14:45:00 repeated", "15:01:00 repeated"]);
  });

  it("reads a leap second as the start of the next, and only where one can be", () => {
    expect(readAll(["2016-12-31T23:59:60Z", "2016-12-31T23:59:60.7Z", "2016-12-31T15:59:60-08:00", "2016-12-30T23:59:60Z", "2016-12-31T12:00:60Z"])).toEqual([
      "00:00:00 plain",
      "00:00:00 plain",
      "00:00:00 plain",
      "- unreadable",
      "- unreadable",
    ]);
  });

  it("places a local stamp by the zone it names, each zone's repeated hour by its own order", () => {
    expect(readAll(["2026-10-25T01:50:00", "2026-11-01T01:50:00[America/New_York]", "2026-11-01T01:10:00[America/New_York]", "2026-10-25T01:10:00", "2026-07-01T12:00:00[Asia/Tokyo]"])).toEqual([
      "00:50:00 repeated",
      "05:50:00 repeated",
      "06:10:00 repeated",
      "01:10:00 repeated",
      "03:00:00 plain",
    ]);
  });

  it("follows the clock changes of every year, also where the rules changed", () => {
    // New York: April to October until 2006, March to November since.
    const noon = (day: string): string => readAll([`${day}T12:00:00`], { zone: "America/New_York" })[0]!;
    expect(["2006-03-20", "2007-03-20", "2006-11-02", "2007-11-02"].map(noon)).toEqual(["17:00:00 plain", "16:00:00 plain", "17:00:00 plain", "16:00:00 plain"]);
  });

  it("refuses a zone that is none", () => {
    expect(() => makeStampReader(longSource({ zone: "Europe/Atlantis" }))).toThrow(RangeError);
  });
});

describe("counts from the start of a device", () => {
  const startMs = Date.UTC(2026, 9, 1, 6);
  const read = (...counts: readonly string[]): (number | string)[] => {
    const reader = makeStampReader({ written: { counts: "ms-since", unitMs: 1, startMs }, zone: "UTC", skippedHour: "set-aside" });
    return counts.map((count) => {
      const instant = reader.read(count);
      return Number.isNaN(instant) ? reader.note : instant - startMs;
    });
  };

  it("are added to it; a row that comes a little late is none that shows a new start", () => {
    expect(read("0", "90000", "31000", "120000.5", "", "-1", "x")).toEqual([0, 90_000, 31_000, 120_001, "unreadable", "unreadable", "unreadable"]);
  });

  it("go on where a counter of 32 bits runs over, also for a row from before that comes late", () => {
    const end = 2 ** 32;
    expect(read(`${end - 2000}`, "500", `${end - 1000}`, "3000")).toEqual([end - 2000, end + 500, end - 1000, end + 3000]);
  });

  it("cannot be read behind a new start, however far they go", () => {
    expect(read("1000000", "20", "9000000")).toEqual([1_000_000, "restarted", "restarted"]);
  });
});
