/** Small inputs that would cost much: time, memory and disk are measured in a process of their own. */
import { stat } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { spreadsheetOf, zipOf } from "../intake/invented-holders.js";
import { MOST_MEGABYTES, MOST_SECONDS, ran } from "./measured.js";
import { folderWith, tinyLog, tinySite } from "./tiny-site.js";

const MEGABYTE = 1_000_000;
/** A shared machine may be ten times as slow as usual. */
const LONGEST_MS = 120_000;
const sized = async (folder: string, file: string): Promise<number> => (await stat(join(folder, file))).size;

describe("rows that are not used", () => {
  it.each([
    ["quotes and nothing else", '"'],
    ["a quote that is never closed, with line breaks", '"\n'],
    ["quotes at the wrong place", 'a"b,"c"d\n'],
  ])("take time in proportion to their size: %s", async (_, text) => {
    const seconds: number[] = [];
    for (const megabytes of [0.3, 2.4]) {
      const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() + text.repeat((megabytes * MEGABYTE) / text.length) });
      const { status, peakMegabytes, seconds: took } = ran(folder, ["audit", "site.yaml", "--out", "out", "--quiet", "--pages", "none"], LONGEST_MS);
      expect([0, 2, 3]).toContain(status);
      expect(peakMegabytes).toBeLessThan(2 * MOST_MEGABYTES);
      seconds.push(took);
    }
    // Time that grew with the square would be 64 times as much; eight times and the start of the program are nothing like it.
    expect(seconds[1]! / seconds[0]!).toBeLessThan(12);
  }, 3 * LONGEST_MS);

  it.each([
    ["a letter a line", "a\n"],
    ["a comma a line", ",\n"],
    ["long rows", `${"x".repeat(5_000)}\n`],
    ["rows that a spreadsheet would run", "=1,=1,=1\n"],
  ])("fill no disk, however little they are: %s", async (_, text) => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() + text.repeat((3 * MEGABYTE) / text.length) });
    const { status, peakMegabytes } = ran(folder, ["audit", "site.yaml", "--out", "out", "--quiet", "--pages", "none"], LONGEST_MS);
    expect(status).toBe(3);
    expect(peakMegabytes).toBeLessThan(3 * MOST_MEGABYTES);
    // Half a million rows are listed, with 20 million characters of their text, however many there are.
    expect(await sized(folder, "out/set-aside.csv")).toBeLessThan(60 * MEGABYTE);
  }, 3 * LONGEST_MS);
});

describe("well-formed files that unpack to thousands of times their size are refused by name", () => {
  const most = (folder: string, words: readonly string[], text: RegExp): void => {
    const { status, told, peakMegabytes, seconds } = ran(folder, words);
    expect(told).toMatch(text);
    expect(status).toBe(2);
    expect([peakMegabytes < MOST_MEGABYTES, seconds < MOST_SECONDS]).toEqual([true, true]);
  };
  const empty = "\n".repeat(60 * MEGABYTE);
  const limit = (file: string): string => tinySite.replace("files: log.csv", `files: ${file}, unpacks_to: 0.02`);

  it("a packed text", async () => {
    const folder = await folderWith({ "site.yaml": limit("log.csv.gz"), "log.csv.gz": gzipSync(tinyLog() + empty) });
    most(folder, ["audit", "site.yaml"], /log\.csv\.gz: The packed file unpacks to more than is read\. Expected at most 0\.02 GB/);
  }, 60_000);

  const overArchives = "\n".repeat(101 * MEGABYTE);

  it("a member of an archive", async () => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("log.csv", "log.zip"), "log.zip": zipOf([["log.csv", tinyLog() + overArchives]]) });
    most(folder, ["audit", "site.yaml"], /log\.zip: The zip archive unpacks to more than is read\. Expected at most 200 times its size, and 100 MB in any case; found/);
  }, 60_000);

  it("a member of an archive that says it is small", async () => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("log.csv", "log.zip"), "log.zip": zipOf([["log.csv", { content: tinyLog() + overArchives, saidBytes: 1000 }]]) });
    most(folder, ["audit", "site.yaml"], /log\.zip\/log\.csv: The file cannot be unpacked\. Expected a whole zip archive/);
  }, 60_000);

  it.each([
    ["cells of a row", "<c/>".repeat(10 * MEGABYTE), /log\.xlsx\/Log:1: A row of the sheet has too many cells\. Expected at most 16,384; found more\. To mend it: save the sheet again, or as CSV\./],
    ["white space in a sheet", " ".repeat(101 * MEGABYTE), /log\.xlsx.*: The zip archive unpacks to more than is read/],
  ])("a spreadsheet: %s", async (_, xml, text) => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("log.csv", "log.xlsx"), "log.xlsx": spreadsheetOf({ Log: [[{ xml }]] }) });
    most(folder, ["audit", "site.yaml"], text);
  }, 60_000);
});
