import { describe, expect, it } from "vitest";
import { trackGroups, trackLayout } from "../../src/draft/tracks.js";
import type { ExportSample } from "../../src/intake/sample-exports.js";
import { iso } from "./invented-exports.js";

const start = Date.UTC(2026, 5, 1, 12);
type Row = readonly [minute: number, track: string, latitude?: number];

/** A GPX file's table: a point a row, `minute` after the start. */
function table(name: string, rows: readonly Row[]): ExportSample {
  return {
    name,
    bytes: 1,
    traits: { text: null, rowsAre: "track points of GPX", hasLines: true, hasTracks: true, timestamps: new Map() },
    whole: true,
    cutOff: false,
    header: ["time", "lat", "lon", "track"],
    rows: rows.map(([minute, track, latitude = 50]) => ({ cells: [iso(start + minute * 60_000), String(latitude), "-3", track], line: 1, stretch: 0 })),
    oddRows: 0,
  };
}
const minutes = (from: number, to: number, track: string, latitude?: number): Row[] => Array.from({ length: to - from }, (_, i) => (latitude === undefined ? [from + i, track] : [from + i, track, latitude]));

describe("whether GPX tracks are of one device", () => {
  const form = (...rows: readonly Row[][]) => trackLayout([table("a.gpx", rows.flat())], "a").form;
  it("one after another: yes", () => {
    expect(form(minutes(0, 10, "out"), minutes(10, 20, "back"), minutes(20, 30, "out"))).toBe("wide");
  });
  it("at once: no, in whichever order they stand", () => {
    expect(form(minutes(0, 10, "mira"), minutes(0, 10, "tom"))).toBe("long");
    expect(form(minutes(0, 10, "mira").reverse(), minutes(0, 10, "tom").reverse())).toBe("long");
    expect(form(minutes(0, 10, "mira"), [[5, "tom"]])).toBe("long");
  });
  it("at once, and only one has a name: no, and the points without one are not mixed in", () => {
    expect(form(minutes(0, 10, "mira"), minutes(0, 10, ""))).toBe("long");
  });
  it("at once under one name: asked, as nothing tells them apart", () => {
    const asked = (...rows: readonly Row[][]) => trackLayout([table("a.gpx", rows.flat())], "a").unsure;
    expect(asked(minutes(0, 10, ""), minutes(0, 10, "", 51))).toMatch(/^was all of it recorded by one device a name\?/);
    expect(asked(minutes(10, 20, ""), minutes(0, 10, ""))).toBeNull();
    expect(asked(minutes(0, 20, "").reverse())).toBeNull();
    expect(asked(minutes(0, 20, "mira"), minutes(0, 20, "tom"))).toBeNull();
  });
  it("says how many points have no name to tell them by", () => {
    expect(trackLayout([table("a.gpx", [...minutes(0, 10, "mira"), ...minutes(0, 10, "tom"), ...minutes(3, 7, "")])], "a").because).toContain("4 points of tracks without a name will be set aside");
  });
});

describe("what a GPX device is called", () => {
  const nameOf = (source: string, ...tracks: readonly string[]) => {
    const layout = trackLayout([table("a.gpx", tracks.map((track, i) => [i, track]))], source);
    return layout.form === "wide" ? layout.positions[0]?.name : null;
  };
  it.each([
    ["mira", ["Morning walk"], "mira"],
    ["mira-2", [""], "mira-2"],
    ["export", ["Mira"], "mira"],
    ["log", ["Track 1"], "phone"],
    ["track", ["2026-06-01"], "phone"],
    ["log", ["out", "back"], "phone"],
    ["phone-2", [""], "phone"],
  ])("file %s with tracks %j: %s", (source, tracks, name) => {
    expect(nameOf(source, ...tracks)).toBe(name);
  });
});

describe("which GPX files are of one device", () => {
  const groups = (...tables: readonly ExportSample[]) => trackGroups(tables).map((group) => group.map(({ name }) => name));
  it("those whose names differ in digits only, one after another or repeating points", () => {
    expect(groups(table("a-1.gpx", minutes(0, 30, "")), table("a-2.gpx", minutes(20, 60, "")), table("a-3.gpx", minutes(60, 90, "")))).toEqual([["a-1.gpx", "a-2.gpx", "a-3.gpx"]]);
  });
  it("not those with other points for the same time", () => {
    expect(groups(table("a1.gpx", minutes(0, 30, "")), table("a2.gpx", minutes(0, 30, "", 51)), table("a3.gpx", minutes(30, 60, "", 51)))).toEqual([["a1.gpx", "a3.gpx"], ["a2.gpx"]]);
  });
  it("not those with other names, nor in other folders", () => {
    expect(groups(table("mira.gpx", minutes(0, 9, "")), table("tom.gpx", minutes(9, 19, "")), table("x1/mira.gpx", minutes(20, 30, "")))).toEqual([["mira.gpx"], ["tom.gpx"], ["x1/mira.gpx"]]);
  });
});
