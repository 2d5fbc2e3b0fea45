/**
 * Sources: RFC 3339, section 5.8 (examples), and RFC 9557 (suffixes; a critical one that is not understood must be refused).
 * Mark: (M), from memory; the texts were not seen. Epoch time has no leap seconds: Keyworthy reads the one here as the
 * start of the second after it, 1991-01-01T00:00:00Z, which is a choice of its own and not of the RFC.
 */
import { describe, expect, it } from "vitest";
import { makeStampReader } from "../../src/intake/stamp.js";
import { longSource } from "../intake/example-site.js";

function read(stamp: string): string | null {
  const reader = makeStampReader(longSource());
  const instant = reader.read(stamp);
  return Number.isNaN(instant) ? null : new Date(instant).toISOString();
}

describe("the examples of RFC 3339, section 5.8 (M)", () => {
  it.each([
    ["1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.520Z"],
    ["1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57.000Z"],
    ["1990-12-31T23:59:60Z", "1991-01-01T00:00:00.000Z"],
    ["1990-12-31T15:59:60-08:00", "1991-01-01T00:00:00.000Z"],
    ["1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.870Z"],
  ])("%s is %s", (stamp, instant) => {
    expect(read(stamp)).toBe(instant);
  });
});

describe("the suffixes of RFC 9557 (M)", () => {
  it("are ignored behind an offset, which alone names the instant", () => {
    expect(read("1996-12-19T16:39:57-08:00[America/Los_Angeles]")).toBe("1996-12-20T00:39:57.000Z");
    expect(read("2022-07-08T00:14:07Z[Europe/London][u-ca=gregory]")).toBe("2022-07-08T00:14:07.000Z");
  });

  it("make a stamp unreadable where they are critical, or not well-formed", () => {
    expect(read("2022-07-08T00:14:07+00:00[!Europe/London]")).toBeNull();
    expect(read("2022-07-08T00:14:07Z[Europe/London][!u-ca=hebrew]")).toBeNull();
    expect(read("2022-07-08T00:14:07Z[]")).toBeNull();
  });
});
