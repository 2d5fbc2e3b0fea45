import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening } from "../commands/tiny-site.js";
import { daysOf, databaseOf, spreadsheetOf, zipOf } from "../intake/invented-holders.js";
import { meterRows } from "./invented-exports.js";

const meters = meterRows([
  { channel: "d1", bay: 1, near: 4.2, far: 8.1 },
  { channel: "w1", bay: 1, near: 26, far: 118 },
]).map((row) => row.split(",") as [string, string, string]);
const csvOf = (channel: string): string => `at,reading\n${meters.filter((row) => row[1] === channel).map(([stamp, , reading]) => `${stamp},${reading}\n`).join("")}`;

async function drafted(files: Readonly<Record<string, string | Uint8Array>>) {
  const folder = await folderWith(files);
  const around = listening(folder);
  const status = await runProgram(["draft", "exports", "--out", "site.yaml"], around);
  const yaml = status === 0 ? (await readFile(join(folder, "site.yaml"), "utf8")).replace(/^timezone: .*$/m, "timezone: Asia/Kathmandu") : "";
  return { yaml, said: around.said(), told: around.told(), folder };
}

/** What `check` says of a site file in the folder. */
async function checked(folder: string, yaml: string, files: Readonly<Record<string, string | Uint8Array>> = {}): Promise<string> {
  const { writeFile } = await import("node:fs/promises");
  for (const [name, content] of Object.entries({ ...files, "site.yaml": yaml })) await writeFile(join(folder, name), content);
  const around = listening(folder);
  expect(await runProgram(["check", "site.yaml"], around), around.told()).toBe(0);
  return around.said();
}

describe("a draft from a zip archive", { timeout: 60_000 }, () => {
  const archive = zipOf([["ceiling bay 1.csv", csvOf("d1")], ["wall bay 1.csv.gz", gzipSync(csvOf("w1"))], ["readme.txt", "These are my exports.\n"], ["old.zip", zipOf([])]]);

  it("takes every export in it, names the source after it, and sets aside what is none", async () => {
    const { yaml, told, folder } = await drafted({ "exports/2026-06.zip": archive });
    expect(yaml).toContain(`files: "exports/*.zip/ceiling bay 1.csv"\n`);
    expect(yaml).toContain(`files: "exports/*.zip/wall bay 1.csv.gz"\n`);
    expect(told).toContain("exports/2026-06.zip/old.zip: This file is not read out of a zip archive.");
    expect(told).toContain("exports/2026-06.zip/readme.txt:1: The file has one column only.");
    const said = await checked(folder, yaml);
    expect(said).toContain("exports/2026-06.zip/ceiling bay 1.csv: 2880 rows read = 2880 accepted + 0 duplicate + 0 set aside");
    expect(said).toContain("exports/2026-06.zip/wall bay 1.csv.gz: 2880 rows read = 2880 accepted + 0 duplicate + 0 set aside");
    expect(said).toContain("new: the file exports/2026-06.zip/readme.txt is taken in by no source");
  });

  it("reads next month's archive without an edit", async () => {
    const { yaml, folder } = await drafted({ "exports/2026-06.zip": archive });
    const july = zipOf([["ceiling bay 1.csv", "at,reading\n2026-07-01T00:00:00Z,4.2\n"]]);
    expect(await checked(folder, yaml, { "exports/2026-07.zip": july })).toContain("exports/2026-07.zip/ceiling bay 1.csv: 1 rows read = 1 accepted");
  });
});

describe("a draft from a spreadsheet", { timeout: 60_000 }, () => {
  const rows = meters.map(([stamp, channel, reading]) => [{ days: daysOf(stamp.replace("Z", "")), as: "both" as const }, channel, Number(reading)]);

  it("takes its sheets for tables, dates in cells included, and says nothing of empty ones", async () => {
    const { yaml, told, folder } = await drafted({ "exports/garage.xlsx": spreadsheetOf({ Sheet1: [["When", "Sensor", "Reading"], ...rows], Sheet2: [] }) });
    expect(yaml).toContain("  garage-sheet-1:\n");
    expect(yaml).toContain("# 1 file, read whole: 5,760 rows of a sheet, of 3 columns\n");
    expect(yaml).toContain("files: exports/garage.xlsx/Sheet1\n");
    expect(yaml).toContain("time: { column: When, written: iso }");
    expect(yaml).not.toMatch(/separates the columns|text is utf-8/);
    expect(told).toContain("exports/garage.xlsx/Sheet2: The sheet is empty.");
    expect(await checked(folder, yaml)).toContain("5760 rows read = 5760 accepted + 0 duplicate + 0 set aside");
  });
});

describe("a draft from an SQLite database", { timeout: 60_000 }, () => {
  it("takes tables and views, and leaves a table aside whose rows a view shows by name", async () => {
    const house = await databaseOf(
      "create table readings (at integer, sensor integer, reading real)",
      "create table sensors (id integer primary key, name text)",
      "insert into sensors values (1, 'd1'), (2, 'w1')",
      `insert into readings values ${meters.map(([stamp, channel, reading]) => `(${Date.parse(stamp)}, ${channel === "d1" ? 1 : 2}, ${reading})`).join(", ")}`,
      "create view named_readings as select at, name as sensor, reading from readings join sensors on sensor = id",
    );
    const { yaml, told, folder } = await drafted({ "exports/house.db": house });
    expect(yaml).toContain("files: exports/house.db/named_readings\n");
    expect(yaml).toContain("# 1 file, read whole: 5,760 rows of a table, of 3 columns\n");
    expect(yaml).not.toContain("files: exports/house.db/readings");
    expect(told).toContain("exports/house.db/readings: The table is left out, as a view of the database shows its rows. Found the view exports/house.db/named_readings.");
    expect(await checked(folder, yaml)).toContain("5760 rows read = 5760 accepted + 0 duplicate + 0 set aside");
  });
});
