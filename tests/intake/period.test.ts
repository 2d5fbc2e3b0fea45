import { describe, expect, it } from "vitest";
import type { Readings } from "../../src/intake/readings.js";
import { settlePeriod, type AskedPeriod } from "../../src/intake/period.js";
import { parseSite } from "../../src/site/parse.js";
import { tinySite } from "../commands/tiny-site.js";
import { pairsOf, readingsOf } from "./packed.js";

const site = parseSite(tinySite, "site.yaml", "/nowhere");

function settled(asked: AskedPeriod, ...heard: readonly string[]): { from: string; to: string; label: string; notes: readonly string[] } {
  const readings = readingsOf("rail", heard.map((time) => [Date.parse(time), 0]));
  const { period, label, notes } = settlePeriod(site, new Map([["rail", readings]]), asked);
  return { from: new Date(period.from).toISOString(), to: new Date(period.to).toISOString(), label, notes };
}

describe("the audited period", () => {
  it("is a month of the site's own time zone: October of the clock change has an hour more", () => {
    const { from, to, label, notes } = settled({ form: "month", month: "2026-10" }, "2026-09-30T20:00:00Z", "2026-11-01T00:00:00Z");
    expect({ from, to, label, notes }).toEqual({ from: "2026-09-30T23:00:00.000Z", to: "2026-11-01T00:00:00.000Z", label: "2026-10", notes: [] });
    expect((Date.parse(to) - Date.parse(from)) / 3_600_000).toBe(31 * 24 + 1);
  });

  it("never reaches beyond the readings, for time nobody looked at would count as time without a fault", () => {
    const { from, to, notes } = settled({ form: "month", month: "2026-12" }, "2026-12-03T00:00:00Z", "2026-12-20T12:00:00Z");
    expect({ from, to }).toEqual({ from: "2026-12-03T00:00:00.000Z", to: "2026-12-20T12:00:00.000Z" });
    expect(notes).toHaveLength(2);
  });

  it("begins and ends at local midnight when days are named, or at the instant named", () => {
    expect(settled({ form: "range", from: "2026-07-01", to: "2026-07-03" }, "2026-06-01T00:00:00Z", "2026-08-01T00:00:00Z")).toMatchObject({ from: "2026-06-30T23:00:00.000Z", to: "2026-07-02T23:00:00.000Z", label: "2026-07-01_2026-07-02" });
    expect(settled({ form: "range", from: "2026-07-01T06:00Z", to: null }, "2026-06-01T00:00:00Z", "2026-08-01T00:00:00Z").from).toBe("2026-07-01T06:00:00.000Z");
  });

  it("takes the first of two equal local times in the night the clocks go back", () => {
    expect(settled({ form: "range", from: "2026-10-25T01:30", to: null }, "2026-10-01T00:00:00Z", "2026-11-01T00:00:00Z").from).toBe("2026-10-25T00:30:00.000Z");
  });

  it("is everything the exports hold when nothing is asked for", () => {
    expect(settled({ form: "all" }, "2026-06-01T00:00:00Z", "2026-06-07T17:03:00Z")).toMatchObject({ from: "2026-06-01T00:00:00.000Z", to: "2026-06-07T17:03:00.000Z", label: "2026-06-01_2026-06-07" });
  });

  describe("with readings of a clock that was not set", () => {
    const week = ["2026-06-01T00:00:00Z", "2026-06-04T00:00:00Z", "2026-06-07T17:03:00Z"];
    const stray = ["1970-01-01T00:00:00Z", ...week, "2099-01-01T00:00:00Z"];
    const week0606 = { from: "2026-06-01T00:00:00.000Z", to: "2026-06-07T17:03:00.000Z" };

    it("does not become 129 years without a fault, and says what was left out", () => {
      expect(settled({ form: "all" }, ...stray)).toEqual({
        ...week0606,
        label: "2026-06-01_2026-06-07",
        notes: [
          "One reading of 1970-01-01 01:00 +01:00 lies more than 90 days from the others and is not part of this audit: was a clock not set? If the time is right, audit it by itself with --from and --to.",
          "One reading of 2099-01-01 00:00 +00:00 lies more than 90 days from the others and is not part of this audit: was a clock not set? If the time is right, audit it by itself with --from and --to.",
        ],
      });
    });

    it("ends with the readings also where the asked end lies beyond, or none is asked for", () => {
      expect(settled({ form: "range", from: "2026-06-01T00:00Z", to: null }, ...stray)).toMatchObject(week0606);
      expect(settled({ form: "range", from: "1900-01-01", to: "2200-01-01" }, ...stray)).toMatchObject(week0606);
      expect(settled({ form: "month", month: "2026-06" }, ...stray)).toMatchObject({ to: week0606.to });
    });

    it("takes the time that is asked for, even if more readings lie elsewhere", () => {
      const later = ["2027-03-01T00:00:00Z", "2027-03-05T00:00:00Z"];
      expect(settled({ form: "range", from: "2027-01-01", to: null }, ...week, ...later)).toMatchObject({ from: "2027-03-01T00:00:00.000Z", to: "2027-03-05T00:00:00.000Z" });
    });

    it("hears nothing of them: what a signal said in 1970 is no word on how it stands years later", () => {
      const of = (signal: string, heard: readonly string[]): [string, Readings] => [signal, readingsOf(signal, heard.map((time, i) => [Date.parse(time), i]))];
      const { readings } = settlePeriod(site, new Map([of("rail", stray), of("phone", ["1970-01-01T00:00:00Z"]), of("wall", ["2026-06-02T00:00:00Z"])]), { form: "all" });
      expect([...readings.values()].map((one) => [one.signal, pairsOf(one).map(([, value]) => value)])).toEqual([["rail", [1, 2, 3]], ["phone", []], ["wall", [0]]]);
    });

    it("keeps all readings, as they are packed, where there is no such hole", () => {
      const readings = new Map([["rail", readingsOf("rail", week.map((time) => [Date.parse(time), 0]))]]);
      expect(settlePeriod(site, readings, { form: "all" }).readings).toBe(readings);
    });

    it("refuses a month in which nobody looked, though there are readings before and after", () => {
      expect(() => settled({ form: "month", month: "2050-01" }, ...stray)).toThrow(/There are no readings in the period asked for\..* found readings from 2026-06-01 01:00 \+01:00 to 2026-06-07 18:03 \+01:00/);
    });
  });

  it("needs two instants", () => {
    expect(() => settled({ form: "all" }, "2026-06-01T00:00:00Z", "2026-06-01T00:00:00Z")).toThrow("site.yaml: All readings of that time are of the same moment. Expected readings over some time; found 2 at 2026-06-01 01:00 +01:00. To mend it: look at how the time stamps are written, or export a longer time.");
  });

  it.each(["2026-13", "2026-1", "10-2026"])("refuses the month %s", (month) => {
    expect(() => settled({ form: "month", month }, "2026-06-01T00:00:00Z", "2026-06-07T00:00:00Z")).toThrow(`\`period\` ${month} is not a month. Expected a month such as 2026-10; found ${month}.`);
  });

  it.each(["2026-02-30", "noon", "2026"])("refuses %s as a time", (from) => {
    expect(() => settled({ form: "range", from, to: null }, "2026-06-01T00:00:00Z", "2026-06-07T00:00:00Z")).toThrow(`\`period.from\` ${from} is not a time.`);
  });
});
