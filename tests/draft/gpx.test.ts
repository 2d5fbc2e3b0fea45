import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { parseSite } from "../../src/site/parse.js";
import { folderWith, listening } from "../commands/tiny-site.js";
import { meterRows } from "./invented-exports.js";
import { daysOf, gpxOf, home, parquetLog, trackOf } from "./invented-tracks.js";

async function drafted(files: Readonly<Record<string, string | Uint8Array>>) {
  const folder = await folderWith(files);
  const around = listening(folder);
  const status = await runProgram(["draft", ...Object.keys(files), "--out", "site.yaml"], around);
  const yaml = status === 0 ? await readFile(join(folder, "site.yaml"), "utf8") : "";
  const load = () => parseSite(yaml.replace(/^timezone: .*$/m, "timezone: UTC"), "site.yaml", folder);
  return { status, yaml, load, said: around.said(), told: around.told(), folder };
}

const places = /50\.0[0-9]|-3\.0[0-9]/;

describe("a draft from GPX", () => {
  it("is a position signal of a person, whose name the track gives, and asks what only somebody can say", async () => {
    const { yaml, load, said } = await drafted({ "mira.gpx": gpxOf(trackOf(daysOf(8), "Track 1")) });
    const site = load();
    expect(site.signals).toMatchObject([{ id: "place-mira", subject: "mira", kind: "position", expectMs: 600_000, band: { farMetres: 150, slackMetres: 30 } }]);
    expect(site.sources).toMatchObject([{ timeColumn: "time", written: "iso", layout: { form: "wide" } }]);
    expect(yaml).toContain("# 1 file, read whole: 1,152 track points of GPX\n");
    const open = said.split("\n").filter((line) => /^ +(?:left open|must be answered):/.test(line)).map((line) => line.trim());
    expect(open).toEqual([
      "must be answered: in which time zone is the site? The stamps are in UTC, which does not tell",
      "left open: is the place in the site file home? It is the one where most of the time is spent at rest, which may be a place of work; rounded to 4 decimals, about 11 m",
      "left open: signal place-mira: whose place is it? If it is a vehicle's, name the person who drives it: the site file knows no places of vehicles",
      "left open: signal place-mira: how near home counts as here? No export tells",
    ]);
  });

  it("proposes as home where it rests most, marked as private, and shows no place on the terminal", async () => {
    const { yaml, said, load } = await drafted({ "mira.gpx": gpxOf(trackOf(daysOf(8), "mira")) });
    expect(load().signals[0]?.reading).toEqual({ form: "position", homeLatitude: home.latitude, homeLongitude: home.longitude });
    expect(yaml).toMatch(/# PRIVATE: the next line says where somebody lives\..*\n# place-mira rests there 6\d % of its time \(\d+ h of 192 h\); at the place with the next most rest 3\d %\n# FILL IN: is the place in the site file home\?.*\nhome: \{ latitude: 50\.0123, longitude: -3\.0045 \}\n/);
    expect(said).not.toMatch(places);
    expect(said).toContain("near home over time (within 150m; places are not shown)");
  });

  it("leaves home open where no place stands out", async () => {
    const points = daysOf(4).map(([at], i) => [at, 40 + i / 100, 5] as const);
    const { yaml, said } = await drafted({ "mira.gpx": gpxOf(trackOf(points, "mira")) });
    expect(yaml).toContain("home: { latitude: FILL-IN, longitude: FILL-IN }");
    expect(said).toContain("places are not shown");
  });

  it("is audited once the time zone is said", { timeout: 30_000 }, async () => {
    const { yaml, folder } = await drafted({ "mira.gpx.gz": gzipSync(gpxOf(trackOf(daysOf(8), "mira"))) });
    const whole = await folderWith({ "mira.gpx.gz": await readFile(join(folder, "mira.gpx.gz")), "site.yaml": yaml.replace(/^timezone: .*$/m, "timezone: UTC") });
    const around = listening(whole);
    expect(await runProgram(["check", "site.yaml"], around), around.told()).toBe(0);
    expect(around.said()).toContain("1152 rows read = 1152 accepted + 0 duplicate + 0 set aside");
    const audit = listening(whole);
    expect(await runProgram(["audit", "site.yaml", "--out", "report"], audit), audit.told()).toBe(0);
    // The site file's promise: what an audit writes does not say where home is.
    const written = await readdir(join(whole, "report"), { recursive: true, withFileTypes: true });
    const files = written.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
    expect(files.length).toBeGreaterThan(3);
    for (const file of files) expect(await readFile(file, "utf8"), file).not.toMatch(/50\.0123|-3\.0045/);
  });

  it("takes tracks that follow one another for one device's, whatever they are called", async () => {
    const points = daysOf(8);
    const trips = Array.from({ length: 8 }, (_, day) => trackOf(points.slice(day * 144, day * 144 + 144), `2026-06-0${day + 1} 12:00`));
    const { load, yaml } = await drafted({ "van.gpx": gpxOf(...trips) });
    expect(load().signals.map(({ id, channel }) => ({ id, channel }))).toEqual([{ id: "place-van", channel: null }]);
    expect(yaml).toContain("# no two of the 8 names of tracks");
  });

  it("tells several people's tracks in one file apart by name", async () => {
    const { load, folder, yaml } = await drafted({ "both.gpx": gpxOf(trackOf(daysOf(8), "mira"), trackOf(daysOf(8, 90), "Tom &amp; co")) });
    expect(load().signals.map(({ id, subject, channel }) => ({ id, subject, channel }))).toEqual([
      { id: "place-mira", subject: "mira", channel: "mira" },
      { id: "place-tom-co", subject: "tom-co", channel: "Tom & co" },
    ]);
    expect(yaml).toContain('the track\'s name tells them apart ("mira", "Tom & co")');
    const whole = await folderWith({ "both.gpx": await readFile(join(folder, "both.gpx")), "site.yaml": yaml.replace(/^timezone: .*$/m, "timezone: UTC") });
    const around = listening(whole);
    expect(await runProgram(["check", "site.yaml"], around), around.told()).toBe(0);
    expect(around.said()).toContain("2304 rows read = 2304 accepted + 0 duplicate + 0 set aside");
  });

  it("makes one source of a device's files, and one each of files recorded at once", async () => {
    const points = daysOf(8);
    const half = points.length / 2;
    const { load } = await drafted({
      "mira-06-01.gpx": gpxOf(trackOf(points.slice(0, half + 20), null)),
      // The later export repeats the end of the earlier one.
      "mira-06-05.gpx": gpxOf(trackOf(points.slice(half - 20), null)),
      "phone1.gpx": gpxOf(trackOf(daysOf(8, 40), null)),
      "phone2.gpx": gpxOf(trackOf(daysOf(8, 80), null)),
    });
    const site = load();
    expect(site.sources.map(({ id, files }) => [id, files])).toEqual([["mira", ["mira-*.gpx"]], ["phone1", ["phone1.gpx"]], ["phone2", ["phone2.gpx"]]]);
    expect(site.signals).toHaveLength(3);
  });

  it("stands beside exports of other formats, one source each, and beside the same person's words", async () => {
    const start = Date.UTC(2026, 5, 1, 12);
    const words = Array.from({ length: 8 * 96 }, (_, i) => {
      const at = start + i * 900_000;
      const minute = Math.floor(at / 60_000) % 1440;
      return `${new Date(at).toISOString()},${minute >= 480 && minute < 1020 ? "out" : "in"}`;
    });
    const meters = meterRows([{ channel: "d1", bay: 1, near: 4.2, far: 8.1 }]);
    const { load, said } = await drafted({
      "log.parquet": parquetLog(meters, (stamps) => ({ name: "stamp", data: stamps.map((stamp) => new Date(stamp)), type: "TIMESTAMP" })),
      "mira.gpx": gpxOf(trackOf(daysOf(8), null)),
      "phones.csv": `When,Mira\n${words.join("\n")}\n`,
    });
    const site = load();
    expect(site.sources.map(({ files }) => files)).toEqual([["log.parquet"], ["mira.gpx"], ["phones.csv"]]);
    expect(site.signals.map(({ id, subject, source }) => [id, subject, source])).toEqual([["d1", "bay-1", "log"], ["place-mira", "mira", "mira"], ["phone-mira", "mira", "phones"]]);
    expect(said.split("\n").filter((line) => /^ {2}(d1|place-mira|phone-mira) /.test(line))).toHaveLength(3);
  });
});

describe("GPX that is not whole", () => {
  it("and stops in the middle is read up to there, and the draft says so", async () => {
    const whole = gpxOf(trackOf(daysOf(8), "mira"));
    const { yaml } = await drafted({ "mira.gpx": whole.slice(0, whole.length - 100) });
    expect(yaml).toContain('# 1 file, read as far as it goes: 1,151 track points of GPX\n    # check: "mira.gpx" stops in the middle: what came after is missing\n');
  });

  it("and is broken in places is read around them, and the draft counts them", async () => {
    const { yaml, load } = await drafted({ "mira.gpx": gpxOf(trackOf(daysOf(8), "mira")).replace("<trkseg>\n", "<trkseg>\n<trkpt lat=51.5>< /trkpt>\n") });
    expect(yaml).toMatch(/# 1 file, read whole: 1,15\d track points of GPX, and \d places? where the markup is broken\n/);
    expect(load().signals).toHaveLength(1);
  });

  it.each<[string, string | Uint8Array, string]>([
    ["is no GPX", "<html><body>no</body></html>", 'The file is not GPX. Expected GPX, as its name ends in .gpx; found a root element "html". To mend it: give it the ending of what it is, or export it again.'],
    ["is text", "at,lat,lon\n", "The file is not GPX. Expected GPX, as its name ends in .gpx; found something else. To mend it: give it the ending of what it is, or export it again."],
    ["is empty", "", "The file is empty. Expected GPX with track points. To mend it: export it again, or leave it out."],
    ["has no track point", gpxOf(), "The GPX file has no track point. Expected tracks: <trkpt> elements with lat, lon and <time>; found none. To mend it: export tracks rather than routes or waypoints, or leave it out."],
    ["says no times", gpxOf('<trk><trkseg><trkpt lat="50" lon="-3"/></trkseg></trk>'), "No track point of the GPX file says its time. Expected a <time> in every <trkpt>; found 1 without a time. To mend it: export recorded tracks rather than planned ones, or leave it out."],
  ])("and %s is named, with what to do", async (_, content, message) => {
    const { status, told } = await drafted({ "a.gpx": content });
    expect([status, told.trimEnd()]).toEqual([2, `a.gpx: ${message}`]);
  });

  it("and is packed and cut off is read as far as it unpacks, and named if that is nowhere", async () => {
    const packed = gzipSync(gpxOf(trackOf(daysOf(8), "mira")));
    const { yaml } = await drafted({ "a.gpx.gz": packed.subarray(0, packed.length / 2) });
    expect(yaml).toMatch(/# 1 file, read as far as it goes: [4-7]\d\d track points of GPX(, and 1 place where the markup is broken)?\n {4}# check: "a\.gpx\.gz" stops in the middle: what came after is missing\n/);
    const { status, told } = await drafted({ "a.gpx.gz": packed.subarray(0, 12) });
    expect([status, told]).toEqual([2, "a.gpx.gz: The packed file is cut off before its first row. Expected a whole gzip file; found its end before the end of the data. To mend it: copy or export it again.\n"]);
  });
});
