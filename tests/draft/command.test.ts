import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening } from "../commands/tiny-site.js";
import { meterRows } from "./invented-exports.js";

const log = `stamp,channel,reading\n${meterRows([{ channel: "d1", bay: 1, near: 4.2, far: 8.1 }, { channel: "w1", bay: 1, near: 26, far: 118 }]).map((row) => row.replace("Z", "+05:45")).join("\n")}\n`;

async function run(files: Readonly<Record<string, string | Uint8Array>>, words: readonly string[]) {
  const folder = await folderWith(files);
  const around = listening(folder);
  return { status: await runProgram(["draft", ...words], around), said: around.said(), told: around.told(), folder };
}

describe("keyworthy draft", () => {
  it("writes the site file, private, and shows what it found: plain characters where it is no terminal", async () => {
    const { status, said, folder } = await run({ "exports/log.csv.gz": gzipSync(log) }, ["exports/log.csv.gz", "--out", "site.yaml"]);
    expect(status).toBe(0);
    const path = join(folder, "site.yaml");
    expect((await stat(path)).mode & 0o777).toBe(0o600);
    expect(await readFile(path, "utf8")).toContain("files: exports/log.csv.gz");
    expect(said.split("\n").map((line) => line.trimEnd())).toEqual([
      "",
      "  signal  kind      watches  readings  every  chart",
      "  d1      distance  bay-1       2,880  5min   @                      #  4.17 to 8.16, occupied 3.71 to 4.69",
      "  w1      distance  bay-1       2,880  5min   @                      #  25.79 to 118.94, occupied 14.5 to 37.5",
      "",
      "Nothing is left open. Next: keyworthy check site.yaml",
      "",
    ]);
  });

  it("names the next command as a shell takes it, whatever the site file is called", async () => {
    const { said } = await run({ "log.csv": log }, ["log.csv", "--out", "my $(home).yaml"]);
    expect(said).toContain("Next: keyworthy check 'my $(home).yaml'");
  });

  it("gives a site file that check reads without a complaint when nothing is left open", async () => {
    const { folder } = await run({ "log.csv": log }, ["log.csv", "--out", "site.yaml"]);
    const around = listening(folder);
    expect(await runProgram(["check", "site.yaml"], around), around.told()).toBe(0);
    expect(around.said()).toContain("5760 rows read = 5760 accepted + 0 duplicate + 0 set aside");
  });

  it("without --out writes the site file and nothing else to the standard output", async () => {
    const { said, told } = await run({ "log.csv": log }, ["log.csv"]);
    expect(said.startsWith("# A first site file")).toBe(true);
    expect(said).not.toContain("chart");
    expect(told).toContain("Nothing is left open.");
    expect((await run({ "log.csv": log }, ["log.csv", "--quiet"])).told).toBe("");
  });

  it("names exports relative to the site file's folder", async () => {
    const { folder } = await run({ "exports/log.csv": log, "sites/keep.txt": "" }, ["exports/log.csv", "--out", "sites/site.yaml"]);
    expect(await readFile(join(folder, "sites/site.yaml"), "utf8")).toContain("files: ../exports/log.csv");
  });

  it("never overwrites a file", async () => {
    const { status, told, folder } = await run({ "log.csv": log, "site.yaml": "mine" }, ["log.csv", "--out", "site.yaml"]);
    expect([status, told]).toEqual([2, "site.yaml: The site file exists already, and a draft does not overwrite it. To mend it: name another file with --out.\n"]);
    expect(await readFile(join(folder, "site.yaml"), "utf8")).toBe("mine");
  });

  it("names every file that is not there or cannot be read, and writes nothing", async () => {
    const { status, told, folder } = await run({ "bad.csv.gz": "not packed" }, ["none.csv", "bad.csv.gz", "--out", "site.yaml"]);
    expect(status).toBe(2);
    expect(told).toContain("none.csv: The file does not exist.");
    expect(told).toContain("bad.csv.gz: The file is not packed with gzip.");
    await expect(stat(join(folder, "site.yaml"))).rejects.toThrow("ENOENT");
  });

  it("takes all files of a folder, and names a path that only a shell would understand", async () => {
    const { status, told, said, folder } = await run({ "exports/log.csv": log, "exports/.hidden": "x" }, ["exports", "~/a.csv", "--out", "site.yaml"]);
    expect(status).toBe(0);
    expect(told).toMatch(/set aside: ~\/a\.csv: The file does not exist\..* To mend it: write the path out: ~ is not known here\./);
    expect(said).toContain("Nothing is left open. Next: keyworthy check site.yaml");
    expect(await readFile(join(folder, "site.yaml"), "utf8")).toContain("files: exports/log.csv");
  });

  it("sets a file aside that it cannot use, with the reason, and drafts from the others", async () => {
    const { status, told, folder } = await run({ "log.csv": log, "notes.csv": "on,what\nMonday,rain\n", "empty.csv": "" }, ["*.csv", "--out", "site.yaml", "--quiet"]);
    expect(status).toBe(0);
    const reasons = told.trimEnd().split("\n");
    expect(reasons).toEqual([
      "set aside: empty.csv: The file is empty. Expected a row of column names and rows of readings. To mend it: export it again, or leave it out.",
      expect.stringContaining("set aside: notes.csv:1: No column holds time stamps that can be read."),
    ]);
    const site = await readFile(join(folder, "site.yaml"), "utf8");
    for (const reason of reasons) expect(site).toContain(`# ${reason}`);
  });

  it("looks at a packed file that is cut off as far as it goes, and says so", async () => {
    const rows = Array.from({ length: 4000 }, (_, i) => `${new Date(Date.UTC(2026, 5, 1) + i * 600_000 + (i * i) % 997).toISOString()},${i % 40 < 20 ? "open" : "closed"}`);
    const packed = gzipSync(`at,rail\n${rows.join("\n")}\n`);
    const { status, said } = await run({ "a.csv.gz": packed.subarray(0, packed.length / 2) }, ["a.csv.gz"]);
    expect(status).toBe(0);
    expect(said).toContain(`# check: "a.csv.gz" stops in the middle: what came after is missing`);
  });

  it("says of XML and Parquet under another name that an audit would not read them", async () => {
    const { told } = await run({ "a.csv": '<?xml version="1.0"?><gpx></gpx>', "b.csv": "PAR1\u0000\u0000" }, ["a.csv", "b.csv"]);
    expect(told.trimEnd().split("\n")).toEqual([
      "a.csv: The file is not what its name says. Expected CSV as text (Parquet and GPX are read from files whose names end in .parquet, .gpx or .gpx.gz); found XML. To mend it: give it the ending of what it is, or draft from the other exports.",
      "b.csv: The file is not what its name says. Expected CSV as text (Parquet and GPX are read from files whose names end in .parquet, .gpx or .gpx.gz); found Parquet. To mend it: give it the ending of what it is, or draft from the other exports.",
    ]);
  });
});
