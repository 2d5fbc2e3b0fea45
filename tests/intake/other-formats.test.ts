import { gzipSync } from "node:zlib";
import { parquetWriteBuffer } from "hyparquet-writer";
import { describe, expect, it } from "vitest";
import type { Site, Source } from "../../src/site/site.js";
import { distanceSignal, intakeOf, longSource, positionSignal } from "./example-site.js";

/** A track of one phone: `<trkpt>` elements between the beginning and end of a GPX file. */
const gpx = (points: string, track = "mira"): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1">\n<trk><name>${track}</name><trkseg>\n${points}</trkseg></trk>\n</gpx>\n`;
const point = (lat: string, lon: string, time: string): string => `<trkpt lat="${lat}" lon="${lon}"><ele>12.5</ele><time>${time}</time></trkpt>\n`;
const home = point("51.5", "-0.12", "2026-10-01T10:00:00Z");
const near = point("51.501", "-0.12", "2026-10-01T10:01:00Z");

const wideGpx = (name = "mira.gpx"): Partial<Site> => ({
  sources: [longSource({ files: [name], timeColumn: "time", layout: { form: "wide", columns: new Map([["mira-phone", { latitude: "lat", longitude: "lon" }]]) } })],
  signals: [positionSignal("mira-phone", { channel: null })],
});
const metres = (pairs: Record<string, [string, number][]>): [string, number][] => pairs["mira-phone"]!.map(([at, value]) => [at.slice(11, 16), Math.round(value)]);

describe("GPX", () => {
  it("is read as rows of time, lat, lon and track", async () => {
    const { pairs, ledger } = await intakeOf({ "mira.gpx": gpx(home + near) }, wideGpx());
    expect(metres(pairs)).toEqual([["10:00", 0], ["10:01", 111]]);
    expect(ledger[0]).toMatchObject({ read: 2, accepted: 2, cutOff: false });
  });

  it("may hold several people's tracks, told apart by name, and may be packed", async () => {
    const two = gpx(home).replace("</gpx>", `<trk><name>tom &amp; co</name><trkseg>${near}</trkseg></trk></gpx>`);
    const source = longSource({ files: ["*.gpx.gz"], timeColumn: "time", layout: { form: "long", signalColumn: "track", valueColumn: null, latitudeColumn: "lat", longitudeColumn: "lon" } });
    const { pairs } = await intakeOf({ "two.gpx.gz": gzipSync(two) }, { sources: [source], signals: [positionSignal("mira-phone", { channel: "mira" }), positionSignal("tom-phone", { channel: "tom & co" })] });
    expect([pairs["mira-phone"]!.length, pairs["tom-phone"]!.length]).toEqual([1, 1]);
  });

  it("sets points aside that say no time or no place, with their line and without the place", async () => {
    const { setAside, ledger } = await intakeOf({ "mira.gpx": gpx(`${home}<trkpt lat="51.4321" lon="-0.4321"></trkpt>\n${point("95", "0", "2026-10-01T10:02:00Z")}${near}`) }, wideGpx());
    expect(setAside.map(({ line, reason }) => `${line} ${reason}`)).toEqual(["5 time stamp not readable", "6 position out of range"]);
    expect(JSON.stringify(setAside)).not.toMatch(/4321/);
    expect(ledger[0]).toMatchObject({ read: 4, accepted: 2, setAside: 2 });
  });

  it("that stops in the middle gives the points before", async () => {
    const whole = gpx(home + near + point("51.502", "-0.12", "2026-10-01T10:02:00Z"));
    const { pairs, ledger, setAside } = await intakeOf({ "mira.gpx": whole.slice(0, whole.indexOf("10:02")) }, wideGpx());
    expect(metres(pairs)).toEqual([["10:00", 0], ["10:01", 111]]);
    expect(ledger[0]).toMatchObject({ read: 3, accepted: 2, setAside: 1, cutOff: true });
    expect(setAside.map(({ reason, detail }) => `${reason}: ${detail}`)).toEqual(["cut off: the file stops inside a track point"]);
  });

  it("with broken markup loses what is broken", async () => {
    const { pairs, ledger, setAside } = await intakeOf({ "mira.gpx": gpx(`${home}<trkpt lat=51.5>< /trkpt>\n${near}`) }, wideGpx());
    expect(metres(pairs)).toContainEqual(["10:01", 111]);
    expect(metres(pairs)).toContainEqual(["10:00", 0]);
    expect(setAside.some(({ reason }) => reason === "markup not well-formed")).toBe(true);
    expect(ledger[0]!.read).toBe(ledger[0]!.accepted + ledger[0]!.duplicate + ledger[0]!.setAside);
  });

  it("that is none is refused", async () => {
    await expect(intakeOf({ "mira.gpx": "<html><body>no</body></html>" }, wideGpx())).rejects.toThrow('mira.gpx: The file is not GPX. Expected GPX, as its name ends in .gpx; found a root element "html".');
    await expect(intakeOf({ "mira.gpx": "stamp,lat,lon\n" }, wideGpx())).rejects.toThrow("mira.gpx: The file is not GPX. Expected GPX, as its name ends in .gpx; found something else.");
    await expect(intakeOf({ "mira.gpx": "" }, wideGpx())).rejects.toThrow("mira.gpx: The file is empty.");
    await expect(intakeOf({ "mira.gpx": `<gpx>${"<a>".repeat(200)}` }, wideGpx())).rejects.toThrow("found elements inside one another without end");
  });
});

describe("Parquet", () => {
  const source = (parts: Partial<Source> = {}): Partial<Site> => ({ sources: [longSource({ files: ["board.parquet"], ...parts })], signals: [distanceSignal("overhead", { reading: { form: "distance", unit: "m" } })] });
  const stamps = ["2026-10-01T10:00:00Z", "2026-10-01T10:00:10Z"];
  const file = (stamp: { name: string; data: unknown[]; type: "STRING" | "TIMESTAMP" | "INT64" }): Uint8Array =>
    new Uint8Array(
      parquetWriteBuffer({
        columnData: [stamp, { name: "channel", data: stamp.data.map(() => "d1"), type: "STRING" }, { name: "reading", data: stamp.data.map((_, i) => (i === 2 ? null : i + 1.5)), type: "DOUBLE", nullable: true }] as Parameters<typeof parquetWriteBuffer>[0]["columnData"],
      }),
    );

  it.each<[string, Uint8Array, Partial<Source>]>([
    ["as text", file({ name: "stamp", data: stamps, type: "STRING" }), {}],
    ["as timestamps", file({ name: "stamp", data: stamps.map((text) => new Date(text)), type: "TIMESTAMP" }), {}],
    ["as whole numbers", file({ name: "stamp", data: stamps.map((text) => BigInt(Date.parse(text))), type: "INT64" }), { written: "epoch-ms" }],
  ])("is read with its times %s", async (_, bytes, parts) => {
    const { pairs, ledger } = await intakeOf({ "board.parquet": bytes }, source(parts));
    expect(pairs["overhead"]).toEqual([["2026-10-01T10:00:00.000Z", 1.5], ["2026-10-01T10:00:10.000Z", 2.5]]);
    expect(ledger[0]).toMatchObject({ read: 2, accepted: 2 });
  });

  it("has empty cells where it has nulls, and counts rows from 1", async () => {
    const { setAside } = await intakeOf({ "board.parquet": file({ name: "stamp", data: [...stamps, "2026-10-01T10:00:20Z", "never"], type: "STRING" }) }, source());
    expect(setAside.map(({ line, reason }) => `${line} ${reason}`)).toEqual(["3 no value", "4 time stamp not readable"]);
  });

  it("that lacks a column, is cut off, or is none, is refused", async () => {
    const whole = file({ name: "stamp", data: stamps, type: "STRING" });
    await expect(intakeOf({ "board.parquet": whole }, source({ timeColumn: "when" }))).rejects.toThrow('The header lacks the column "when"');
    await expect(intakeOf({ "board.parquet": whole.subarray(0, whole.length - 30) }, source())).rejects.toThrow(/board\.parquet: The Parquet file cannot be read\. Expected a whole Parquet file; found /);
    await expect(intakeOf({ "board.parquet": "stamp,channel\n" }, source())).rejects.toThrow(/board\.parquet: The Parquet file cannot be read/);
  });
});
