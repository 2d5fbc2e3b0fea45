import { describe, expect, it } from "vitest";
import { clockBySpan, zonesFor } from "../../src/draft/zone.js";

const at = (text: string, minutes: number) => ({ instant: Date.parse(text), minutes });

describe("the zones that fit the offsets of stamps", () => {
  it("are few when a clock change was seen", () => {
    const { zones, changed } = zonesFor([at("2026-10-25T00:59:00Z", 60), at("2026-10-25T01:00:00Z", 0)]);
    expect(changed).toBe(true);
    expect(zones[0]).toBe("Europe/London");
    expect(zones).toContain("Europe/Lisbon");
    expect(zones).not.toContain("Europe/Berlin");
    expect(zones).not.toContain("Africa/Abidjan");
  });

  it("are many when none was", () => {
    const { zones, changed } = zonesFor([at("2026-07-01T00:00:00Z", 60)]);
    expect(changed).toBe(false);
    expect(zones).toEqual(expect.arrayContaining(["Europe/London", "Africa/Lagos"]));
  });

  it("are none for stamps in UTC, which say nothing of the place, and for offsets that no zone has", () => {
    expect(zonesFor([at("2026-07-01T00:00:00Z", 0)]).zones).toEqual([]);
    expect(zonesFor([at("2026-07-01T00:00:00Z", 61)]).zones).toEqual([]);
  });
});

describe("whose clock wrote stamps without an offset", () => {
  const span = (from: string, to: string) => ({ from: Date.parse(from), to: Date.parse(to) });
  const local = span("2026-07-01T09:00:00Z", "2026-07-31T20:00:00Z");
  const utc = span("2026-07-01T08:00:00Z", "2026-07-31T19:00:00Z");
  it("is told by where the export begins and ends beside the others", () => {
    expect(clockBySpan(span("2026-07-01T09:04:00Z", "2026-07-31T19:58:00Z"), local, utc)).toBe("local");
    expect(clockBySpan(span("2026-07-01T08:04:00Z", "2026-07-31T18:58:00Z"), local, utc)).toBe("UTC");
  });
  it("is not told by exports of other days", () => {
    expect(clockBySpan(span("2026-07-03T09:04:00Z", "2026-07-31T19:58:00Z"), local, utc)).toBeNull();
    expect(clockBySpan(local, local, local)).toBeNull();
  });
});
