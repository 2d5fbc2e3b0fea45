import { execFileSync, spawn } from "node:child_process";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { databaseOf, spreadsheetOf } from "../intake/invented-holders.js";
import { MOST_MEGABYTES, MOST_SECONDS, ran, type Ran } from "./measured.js";
import { folderWith, tinyLog, tinySite } from "./tiny-site.js";

function expectRefused({ status, told, peakMegabytes, seconds }: Ran, text: string | RegExp): void {
  expect(told).toMatch(text);
  expect(status).toBe(2);
  expect(peakMegabytes).toBeLessThan(MOST_MEGABYTES);
  expect(seconds).toBeLessThan(MOST_SECONDS);
}

const trackSite = `site: Otter Cottage
timezone: Europe/London
sources:
  walk: { files: walk.gpx.gz, time: { column: time, written: iso }, latitude: lat, longitude: lon, signal: track }
home: { latitude: 51.5, longitude: -0.1 }
people: { ida: {} }
signals:
  phone: { on: ida, source: walk, channel: walk, kind: position, radius: 150m }
rules:
  - { name: unlock, act: unlock, when: { signal: phone, turned: here, within: 2min }, right_when: { subject: ida, turned: here, within: 2min } }
limits: { unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min } }
`;
const long = "a".repeat(40_000_000);
const root = '<?xml version="1.0"?><gpx>';

describe("GPX of forty kilobytes packed, whose markup has no end, is refused by name and place", () => {
  it.each([
    ["the name of a tag", `${root}<${long}`, "the name of a tag of more than 64 kB"],
    ["an attribute's value", `${root}<trk a="${long}`, "the value of an attribute of more than 64 kB"],
    ["an attribute's name", `${root}<trk ${long}`, "the name of an attribute of more than 64 kB"],
    ["attributes", `${root}<trk ${Array.from({ length: 2_000_000 }, (_, i) => `a${i}=""`).join(" ")}`, "more than 100 attributes in a tag"],
    ["a comment", `${root}<!-- ${long}`, "a comment of more than 64 kB"],
    ["a DTD", `<!DOCTYPE gpx [ ${long}`, "a document type (DTD) of more than 64 kB"],
    ["an instruction", `${root}<?a ${long}`, "an instruction of more than 64 kB"],
    ["a declaration", `${root}<!${long}`, "a declaration of more than 1000 characters"],
  ])("%s", async (_, text, found) => {
    const folder = await folderWith({ "site.yaml": trackSite, "walk.gpx.gz": gzipSync(text) });
    expectRefused(ran(folder, ["audit", "site.yaml"]), `walk.gpx.gz:1: Markup in the GPX file has no end. Expected tags, comments and declarations of ordinary length; found ${found}. To mend it: export it again.`);
  }, 60_000);
});

describe("a spreadsheet of some kilobytes packed, whose markup has no end, is refused by name", () => {
  it.each([
    ["a declaration", `<!${long}`, "a declaration of more than 1000 characters"],
    ["a comment", `<!-- ${long}`, "a comment of more than 64 kB"],
    ["the name of a tag", `<${long}`, "the name of a tag of more than 64 kB"],
    ["attributes", `<row ${Array.from({ length: 2_000_000 }, (_, i) => `a${i}=""`).join(" ")}`, "more than 100 attributes in a tag"],
    ["elements", "<row>".repeat(2_000_000), "elements inside one another without end"],
  ])("%s", async (_, text, found) => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", "files: log.xlsx"), "log.xlsx": spreadsheetOf({ Log: [[{ xml: text }]] }) });
    expectRefused(ran(folder, ["audit", "site.yaml"]), `log.xlsx/Log: The spreadsheet cannot be read. Expected a whole spreadsheet, as its name ends in .xlsx or .xlsm; found xl/worksheets/sheet1.xml that is not well-formed (${found}). To mend it: save it again as .xlsx, or as CSV.`);
  }, 60_000);
});

describe("a packed file that unpacks to more than is read", () => {
  it("is refused, and allowed by `unpacks_to`", async () => {
    const log = `${tinyLog()}${"\n".repeat(40_000_000)}`;
    const site = (limit: string): string => tinySite.replace("files: log.csv", `files: log.csv.gz${limit}`);
    const folder = await folderWith({ "site.yaml": site(", unpacks_to: 0.02"), "more.yaml": site(", unpacks_to: 0.05"), "log.csv.gz": gzipSync(log) });
    expectRefused(ran(folder, ["audit", "site.yaml"]), /^log\.csv\.gz: The packed file unpacks to more than is read\. Expected at most 0\.02 GB; found more, from [\d,]+ bytes\. To mend it: if it is what it should be, allow more with `unpacks_to` of its source in the site file, or export shorter stretches\.\n$/);
    expect(ran(folder, ["audit", "more.yaml", "--quiet"]).status).toBe(3);
  }, 60_000);
});

describe("a pattern that stands for too much", () => {
  it.each([
    ["{1..9999999}.csv", 'The pattern stands for too much, and is not looked for. Expected braces that stand for at most 1,000 patterns; found "{1..9999999}.csv" with braces that stand for 9,999,999. To mend it: write a simpler pattern in the site file, or several.'],
    [`${"{a,b}".repeat(30)}.csv`, "braces that stand for 1,073,741,824"],
    ["+(a|aa)b.csv", "groups that repeat"],
    [`[a]${"*a".repeat(25)}.csv`, "Expected at most 3 stars in one name beside ( ), [ ], { } or **"],
  ])("%s is refused", async (pattern, text) => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", `files: "${pattern}"`), [`${"a".repeat(200)}.csv`]: tinyLog() });
    const refused = ran(folder, ["audit", "site.yaml"]);
    expect(refused.told).toContain(text);
    expect([refused.status, refused.seconds < MOST_SECONDS, refused.peakMegabytes < MOST_MEGABYTES]).toEqual([2, true, true]);
  }, 60_000);

  it.each([[`${"*a".repeat(25)}.csv`, 3], [`${"*a".repeat(25)}b.csv`, 2], ["below/../*a*a*a*a*a*.csv", 3]])("but many stars are only fitted another way: %s", async (pattern, status) => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", `files: "${pattern}"`), [`${"a".repeat(200)}.csv`]: tinyLog(), "below/x": "" });
    const { status: given, seconds } = ran(folder, ["audit", "site.yaml", "--quiet"]);
    expect([given, seconds < MOST_SECONDS]).toEqual([status, true]);
  }, 60_000);
});

describe("a database of some kilobytes, whose view has no end, is refused by name", () => {
  const numbers = "with recursive n(x) as (select 1 union all select x + 1 from n)";
  it.each([
    ["rows of nothing", `create view log as ${numbers} select '2026-06-01T10:00:00Z' as at, 'rail' as what, 'open' as says from n`, "log.db/log: The view gives more rows than the database has bytes. Expected at most 1,000,000; found more. To mend it: make a view of rows that are in the database, or export them as CSV.\n"],
    ["no row, ever", `create view log as ${numbers} select max(x) as at, 'rail' as what, 'open' as says from n`, "log.db/log: The table or view cannot be read. Expected one that gives its rows in good time; found nothing that came of it for 3 s. To mend it: make the view simpler, export its rows as CSV, or leave it out.\n"],
  ])("%s", async (_, view, told) => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", "files: log.db"), "log.db": await databaseOf(view) });
    for (const words of [["check", "site.yaml", "--quiet"], ["draft", "log.db", "--quiet"]]) {
      const refused = ran(folder, words);
      expectRefused(refused, told);
    }
  }, 90_000);
});

describe("YAML that a parser would fall over is refused before it is parsed", () => {
  it.each([
    ["lists within lists", "- ".repeat(20_000), /^(?:FOLDER\/)?hostile\.yaml:1: The file has too many levels within levels\.\n$/],
    ["brackets within brackets", "[".repeat(10_000_000), /^(?:FOLDER\/)?hostile\.yaml:1: The file has too many brackets within brackets\.\n$/],
    ["lines without end", "a:\n".repeat(5_000_000), /^(?:FOLDER\/)?hostile\.yaml:\d+: The file is too long: up to here it has more than \d+,000 line ends, colons, commas and marks\.\n$/],
    ["anchors without end", "a: &a ".repeat(2_000_000), /^(?:FOLDER\/)?hostile\.yaml:1: The file is too long/],
  ])("%s", async (_, text, told) => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog(), "hostile.yaml": text });
    for (const words of [["check", "hostile.yaml"], ["audit", "site.yaml", "--try", "hostile.yaml"], ["combine", "none", "--out", "all", "--fleet", "hostile.yaml"], ["simulate", "hostile.yaml", "--out", "new"]]) {
      const refused = ran(folder, words);
      if (words[0] === "combine") expect([refused.status, refused.peakMegabytes < MOST_MEGABYTES]).toEqual([2, true]);
      else expectRefused(refused, told);
    }
  }, 60_000);
});

describe("what is read whole is looked at first", () => {
  it.each([
    [["audit", "pipe"], "pipe: This is no file, and is not read. Expected a site file; found a pipe. To mend it: check the path."],
    [["check", "/dev/zero"], "/dev/zero: This is no file, and is not read. Expected a site file; found a device."],
    [["audit", "site.yaml", "--try", "pipe"], "found a pipe"],
    [["explain", "pipe", "--at", "2026-06-01T10:00"], "pipe: This is no file, and is not read. Expected the findings.json of an audit; found a pipe."],
    [["explain", "/dev/zero", "--at", "2026-06-01T10:00"], "found a device"],
    [["simulate", "pipe", "--out", "new"], "pipe: This is no file, and is not read. Expected a scenario file; found a pipe."],
    [["combine", "done", "--out", "all"], "counts.json: This is no file, and is not read. Expected the counts of an audit; found a pipe."],
    [["audit", "huge"], "huge: The file is too large for a site file, and is not read. Expected a site file; found more than 17 MB."],
  ])("%j", async (words, text) => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog(), "done/a/x": "", huge: "" });
    execFileSync("mkfifo", [join(folder, "pipe"), join(folder, "done/a/counts.json")]);
    execFileSync("truncate", ["-s", "3G", join(folder, "huge")]);
    const refused = ran(folder, words);
    expect(refused.told).toContain(text);
    expect([refused.status, refused.seconds < MOST_SECONDS, refused.peakMegabytes < MOST_MEGABYTES]).toEqual([2, true, true]);
  }, 60_000);

  it("a pipe with a writer too", async () => {
    const folder = await folderWith({ x: "" });
    execFileSync("mkfifo", [join(folder, "pipe")]);
    const writer = spawn("bash", ["-c", `cat /dev/zero > '${join(folder, "pipe")}'`]);
    try {
      expect(ran(folder, ["audit", "pipe"]).told).toContain("found a pipe");
    } finally {
      writer.kill();
    }
  }, 60_000);
});
