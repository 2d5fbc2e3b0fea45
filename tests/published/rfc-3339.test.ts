/**
 * Sources: RFC 3339, section 5.8 (examples), and RFC 9557 (suffixes; what to do where they contradict the offset).
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
  it("are read behind a stamp that they agree with", () => {
    expect(read("1996-12-19T16:39:57-08:00[America/Los_Angeles]")).toBe("1996-12-20T00:39:57.000Z");
    expect(read("1996-12-19T16:39:57-08:00[!America/Los_Angeles][u-ca=gregory]")).toBe("1996-12-20T00:39:57.000Z");
  });

  it("make a stamp unreadable where a critical zone contradicts the offset", () => {
    expect(read("2022-07-08T00:14:07+00:00[!Europe/London]")).toBeNull();
    expect(read("2022-07-08T01:14:07+01:00[!Europe/London]")).toBe("2022-07-08T00:14:07.000Z");
  });

  it("do not contradict Z, which says that the local offset is not known", () => {
    expect(read("2022-07-08T00:14:07Z[!Europe/London]")).toBe("2022-07-08T00:14:07.000Z");
  });

  it("that are critical and not understood make a stamp unreadable; others are passed over", () => {
    expect(read("2022-07-08T00:14:07Z[!u-ca=hebrew]")).toBeNull();
    expect(read("2022-07-08T00:14:07Z[!Europe/Atlantis]")).toBeNull();
    expect(read("2022-07-08T00:14:07Z[Europe/Atlantis][_note=x]")).toBe("2022-07-08T00:14:07.000Z");
    expect(read("2022-07-08T00:14:07Z[]")).toBeNull();
  });
});
