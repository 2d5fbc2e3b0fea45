import { describe, expect, it } from "vitest";
import { findWriting, offsetMinutes } from "../../src/draft/time-writing.js";

const placed = (texts: readonly string[]) => texts.map((text, i) => ({ text, line: i + 2, isLine: true }));
const written = (...texts: string[]): string | null => findWriting(placed(texts))?.written ?? null;

describe("how stamps are written", () => {
  it("is told by their shape", () => {
    expect(written("2026-10-01T07:00:00+01:00", "2026-10-01 07:05:00")).toBe("iso");
    expect(written("1772330400", "1772330700")).toBe("epoch-s");
    expect(written("1772330400123", "1772330700456")).toBe("epoch-ms");
    expect(written("31/10/2026 23:51:18")).toBe("dd/MM/yyyy HH:mm:ss");
    expect(written("10/31/2026 23:51")).toBe("MM/dd/yyyy HH:mm");
    expect(written("31.10.2026 23:51:18.250")).toBe("dd.MM.yyyy HH:mm:ss.SSS");
    expect(written("2026/10/31 23:51:18")).toBe("yyyy/MM/dd HH:mm:ss");
    expect(written("31 Oct 2026 23:51:18")).toBe("dd MMM yyyy HH:mm:ss");
    expect(written("Oct 31, 2026 11:51:18 PM")).toBe("MMM dd, yyyy hh:mm:ss a");
    expect(written("Sat, 31 October 2026 23:51")).toBe("EEE, dd MMMM yyyy HH:mm");
    expect(written("31-10-26 23:51")).toBe("dd-MM-yy HH:mm");
  });

  it("allows for days and hours of one digit where there are any", () => {
    expect(written("9/10/2026 7:05", "31/10/2026 17:05", "1/11/2026 0:00")).toBe("d/MM/yyyy H:mm");
  });

  it("names the row that excludes the other order of day and month", () => {
    const found = findWriting(placed(["01/10/2026 08:00:00", "12/10/2026 08:00:00", "31/10/2026 08:00:00"]));
    expect(found?.evidence).toBe('3 of 3 stamps read as dd/MM/yyyy HH:mm:ss; line 4 ("31/10/2026 08:00:00") excludes MM/dd/yyyy HH:mm:ss');
    expect(found?.open).toBeNull();
  });

  it("leaves the order open where no day is above 12, and writes the one in which the stamps lie together", () => {
    const days = findWriting(placed(["01/10/2026 08:00:00", "02/10/2026 08:00:00", "12/10/2026 08:00:00"]));
    expect(days?.written).toBe("dd/MM/yyyy HH:mm:ss");
    expect(days?.open).toContain("day before month or month before day? No stamp has a day above 12");
    const months = findWriting(placed(["10/01/2026 08:00:00", "10/02/2026 08:00:00", "10/12/2026 08:00:00"]));
    expect(months?.written).toBe("MM/dd/yyyy HH:mm:ss");
    expect(months?.open).toContain("within 11 days instead of 334");
  });

  it("says so when day, month, and a year of two digits can stand in another order", () => {
    const found = findWriting(placed(["16/10/26 21:00", "20/10/26 21:00"]));
    expect(found?.written).toBe("dd/MM/yy HH:mm");
    expect(found?.open).toMatch(/^in which order are day, month and year\? As many stamps read as yy\/MM\/dd HH:mm\. dd\/MM\/yy HH:mm is written here because the stamps then lie within 4 days instead of/);
  });

  it("passes over a few cells that are no stamps, and counts them", () => {
    const cells = [...Array.from({ length: 18 }, (_, i) => `2026-10-${String(i + 10)}T08:00:00Z`), "Total:", "18"];
    expect(findWriting(placed(cells))?.evidence).toBe('18 of 20 stamps read as iso; line 20 ("Total:") does not');
  });

  it("is null for what is no time", () => {
    expect(written("open", "closed")).toBeNull();
    expect(written("4.18", "5.20")).toBeNull();
    expect(written("23:51:18")).toBeNull();
    expect(written("", "")).toBeNull();
    expect(written("999999999", "12")).toBeNull();
  });

  it("says whether stamps carry their offset", () => {
    const offsets = (...texts: string[]) => findWriting(placed(texts))?.offsets;
    expect(offsets("2026-10-01T07:00:00+01:00", "2026-10-01T07:00:00Z")).toBe("all");
    expect(offsets("2026-10-01T07:00:00")).toBe("none");
    expect(offsets("2026-10-01T07:00:00Z", "2026-10-01T07:00:00")).toBe("some");
    expect(offsetMinutes("2026-10-01T07:00:00-03:30")).toBe(-210);
    expect(offsetMinutes("2026-10-01")).toBeNull();
  });
});
