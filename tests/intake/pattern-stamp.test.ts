import fc from "fast-check";
import { DateTime } from "luxon";
import { describe, expect, it } from "vitest";
import { makePatternReader, patternHasYear } from "../../src/intake/pattern-stamp.js";

describe("a stamp read by a pattern", () => {
  it("is a wall clock reading where the pattern has no offset", () => {
    const reader = makePatternReader("dd/MM/yyyy HH:mm:ss");
    expect(reader.givesInstants).toBe(false);
    expect(reader.read("25/10/2026 01:30:05")).toBe(Date.UTC(2026, 9, 25, 1, 30, 5));
  });

  it("is an instant where it has one", () => {
    const reader = makePatternReader("yyyy-MM-dd HH:mm:ss ZZ");
    expect(reader.givesInstants).toBe(true);
    expect(reader.read("2026-10-25 01:30:05 +01:00")).toBe(Date.UTC(2026, 9, 25, 0, 30, 5));
  });

  it("may hold names, twelve-hour clocks and quoted text", () => {
    expect(makePatternReader("d LLL yyyy, h:mm a").read("5 Oct 2026, 1:30 PM")).toBe(Date.UTC(2026, 9, 5, 13, 30));
    expect(makePatternReader("yyyyMMdd'T'HHmmss").read("20261005T133000")).toBe(Date.UTC(2026, 9, 5, 13, 30));
    expect(makePatternReader("yyyy-MM-dd 'at' HH'Z'").givesInstants).toBe(false);
  });

  it("reads what luxon reads, by whichever way", () => {
    const patterns = fc.constantFrom("dd/MM/yyyy HH:mm:ss", "yyyyMMdd'T'HHmmss", "MM-dd-yyyy HH:mm:ss.SSS", "yyyy.MM.dd", "HH:mm dd.MM.yyyy", "d/M/yyyy H:mm");
    const fields = fc.record({ year: fc.integer({ min: 1, max: 9999 }), month: fc.integer({ min: 0, max: 13 }), day: fc.integer({ min: 0, max: 32 }), hour: fc.integer({ min: 0, max: 25 }), minute: fc.integer({ min: 0, max: 61 }), second: fc.integer({ min: 0, max: 61 }) });
    const two = (value: number): string => String(value).padStart(2, "0");
    fc.assert(
      fc.property(patterns, fields, fc.constantFrom("", " ", "x"), (pattern, { year, month, day, hour, minute, second }, tail) => {
        const text = pattern.replaceAll("'", "").replace("yyyy", String(year).padStart(4, "0")).replace("MM", two(month)).replace("dd", two(day)).replace("HH", two(hour)).replace("mm", two(minute)).replace("SSS", "123").replace("ss", two(second)).replace("d/", `${day}/`).replace("M/", `${month}/`).replace("H", String(hour)) + tail;
        expect(makePatternReader(pattern).read(text)).toBe(DateTime.fromFormat(text, pattern, { zone: "utc", locale: "en-US" }).toMillis());
      }),
      { numRuns: 500 },
    );
  });

  it("must say which year", () => {
    expect(patternHasYear("dd/MM HH:mm")).toBe(false);
    expect(patternHasYear("dd/MM 'yes' HH:mm")).toBe(false);
    expect(patternHasYear("dd/MM/yy HH:mm")).toBe(true);
    expect(patternHasYear("X")).toBe(true);
  });
});
