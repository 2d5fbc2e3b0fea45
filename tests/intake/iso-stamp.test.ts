import fc from "fast-check";
import { DateTime } from "luxon";
import { describe, expect, it } from "vitest";
import { emptyIsoStamp, readIsoStamp } from "../../src/intake/iso-stamp.js";

/** The instant of a stamp with an offset, the wall clock of one without, as ISO text; null where it does not read. */
function read(text: string): string | null {
  const stamp = emptyIsoStamp();
  if (!readIsoStamp(text, stamp)) return null;
  return Number.isNaN(stamp.offsetMs) ? new Date(stamp.wallMs).toISOString().slice(0, -1) : new Date(stamp.wallMs - stamp.offsetMs).toISOString();
}

describe("an ISO 8601 stamp", () => {
  it("is read with and without offset, with T or a space, with or without seconds and fraction", () => {
    expect(read("2026-10-01T18:30:05Z")).toBe("2026-10-01T18:30:05.000Z");
    expect(read("2026-10-01 18:30:05.25+01:00")).toBe("2026-10-01T17:30:05.250Z");
    expect(read("2026-10-01 18:30:05,25 +0100")).toBe("2026-10-01T17:30:05.250Z");
    expect(read("2026-10-01t18:30-05")).toBe("2026-10-01T23:30:00.000Z");
    expect(read("2026-10-01T18:30")).toBe("2026-10-01T18:30:00.000");
  });

  it("rounds its fraction to the millisecond", () => {
    expect(read("2026-10-01T18:30:05.123456Z")).toBe("2026-10-01T18:30:05.123Z");
    expect(read("2026-10-01T18:30:05.9996Z")).toBe("2026-10-01T18:30:06.000Z");
  });

  it.each([
    "",
    "yesterday",
    "2026-10-01",
    "2026-13-01T00:00Z",
    "2026-02-29T00:00Z",
    "2026-10-01T24:00Z",
    "2026-10-01T18:60Z",
    "2026-10-01T18:30:61Z",
    "2026-10-01T18:30:05.Z",
    "2026-10-01T18:30:05+1",
    "2026-10-01T18:30:05+24:00",
    "2026-10-01T18:30:05+01:60",
    "2026-10-01T18:30:05Zulu",
    "2026-10-01T18:30:05[Europe/Atlantis]",
    "2026-10-01T18:30:05 or so",
    "2026-10-01T18:30:05+01:00:30",
    "2026-10-01T18:30:05 Asia/Tokyo",
    "2026-10-01T18:30:05+01:",
    "20261001T183",
    "20261301T183005Z",
  ])("does not read %j", (text) => {
    expect(read(text)).toBeNull();
  });

  it("agrees with luxon wherever both read", () => {
    const instants = fc.date({ min: new Date("1900-01-01T00:00:00Z"), max: new Date("2199-12-31T23:59:59Z"), noInvalidDate: true });
    fc.assert(
      fc.property(instants, fc.constantFrom("UTC", "UTC+5:30", "UTC-8", "UTC+13"), fc.boolean(), (instant, zone, suppressMilliseconds) => {
        const text = DateTime.fromJSDate(instant, { zone }).toISO({ suppressMilliseconds })!;
        expect(read(text)).toBe(instant.toISOString());
      }),
    );
  });

  it("keeps the zone that is named behind a local time", () => {
    const stamp = emptyIsoStamp();
    for (const text of ["2026-10-01T18:30:05[Asia/Tokyo]", "2026-10-01T18:30:05[!Asia/Tokyo]"]) {
      expect([text, readIsoStamp(text, stamp), stamp.zone, stamp.offsetMs]).toEqual([text, true, "Asia/Tokyo", Number.NaN]);
    }
    expect([readIsoStamp("2026-10-01T18:30:05", stamp), stamp.zone]).toEqual([true, null]);
  });

  it("never throws for any text", () => {
    const near = fc.array(fc.constantFrom("2026", "-", "10", "T", " ", ":", "30", "Z", "+", "[", "]", "!", "u-ca=", ".", "5")).map((parts) => parts.join(""));
    fc.assert(fc.property(fc.oneof(fc.string(), near, near.map((text) => `2026-10-01T18:30${text}`)), (text) => [true, false].includes(readIsoStamp(text, emptyIsoStamp()))));
  });
});
