import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { parseSite } from "../../src/site/parse.js";
import { folderWith, listening } from "../commands/tiny-site.js";
import { iso, meterRows } from "./invented-exports.js";
import { parquetLog, parquetOf } from "./invented-tracks.js";

const meters = meterRows([
  { channel: "d1", bay: 1, near: 4.2, far: 8.1 },
  { channel: "w1", bay: 1, near: 26, far: 118 },
]);

async function drafted(files: Readonly<Record<string, string | Uint8Array>>) {
  const folder = await folderWith(files);
  const around = listening(folder);
  const status = await runProgram(["draft", ...Object.keys(files), "--out", "site.yaml"], around);
  const yaml = status === 0 ? await readFile(join(folder, "site.yaml"), "utf8") : "";
  return { status, yaml, said: around.said(), told: around.told(), folder };
}

/** What `check` says of the drafted site file. */
async function checked(folder: string): Promise<string> {
  const around = listening(folder);
  expect(await runProgram(["check", "site.yaml"], around), around.told()).toBe(0);
  return around.said();
}

describe("a draft from Parquet", () => {
  it("with nothing left open is read by check and audited as it is", { timeout: 30_000 }, async () => {
    const { yaml, said, folder } = await drafted({ "log.parquet": parquetLog(meters, (stamps) => ({ name: "stamp", data: stamps.map((stamp) => stamp.replace("Z", "+05:45")), type: "STRING" })) });
    expect(said).toContain("Nothing is left open.");
    expect(said.split("\n").map((line) => line.trimEnd())).toContain("  d1      distance  bay-1       2,880  5min   @                      #  4.17 to 8.16, occupied 3.71 to 4.69");
    expect(yaml).toContain("# 1 file, read whole: 5,760 rows of Parquet, of 3 columns\n");
    expect(yaml).not.toMatch(/separates the columns|text is utf-8/);
    expect(await checked(folder)).toContain("5760 rows read = 5760 accepted + 0 duplicate + 0 set aside");
    const audit = listening(folder);
    expect(await runProgram(["audit", "site.yaml", "--out", "report"], audit), audit.told()).toBe(0);
    expect(await readFile(join(folder, "report", "findings.json"), "utf8")).toContain('"d1"');
  });

  it.each<[string, (stamps: readonly string[]) => Parameters<typeof parquetOf>[0][number], string, string]>([
    ["timestamps", (stamps) => ({ name: "stamp", data: stamps.map((stamp) => new Date(stamp)), type: "TIMESTAMP" }), "time: { column: stamp, written: iso }", "# the column holds timestamps in UTC; 5,760 of 5,760 stamps read as iso"],
    ["whole numbers of milliseconds", (stamps) => ({ name: "stamp", data: stamps.map((stamp) => BigInt(Date.parse(stamp))), type: "INT64" }), "time: { column: stamp, written: epoch-ms }", "# 5,760 of 5,760 stamps read as epoch-ms"],
    ["numbers of seconds", (stamps) => ({ name: "stamp", data: stamps.map((stamp) => Date.parse(stamp) / 1000), type: "DOUBLE" }), "time: { column: stamp, written: epoch-s }", "# 5,760 of 5,760 stamps read as epoch-s"],
  ])("reads times that are %s", async (_, column, time, evidence) => {
    const { yaml, folder } = await drafted({ "log.parquet": parquetLog(meters, column) });
    expect(yaml).toContain(time);
    expect(yaml).toContain(evidence);
    const site = parseSite(yaml.replace(/^timezone: .*$/m, "timezone: UTC"), "site.yaml", folder);
    expect(site.signals.map(({ id, subject, kind, expectMs }) => ({ id, subject, kind, expectMs }))).toEqual([
      { id: "d1", subject: "bay-1", kind: "distance", expectMs: 300_000 },
      { id: "w1", subject: "bay-1", kind: "distance", expectMs: 300_000 },
    ]);
  });

  it("asks whose clock timestamps without a zone show", async () => {
    const start = Date.UTC(2026, 5, 1, 12);
    const file = parquetOf(
      [
        { name: "at", data: Array.from({ length: 60 }, (_, i) => new Date(start + i * 3_600_000)) },
        { name: "yard-door", data: Array.from({ length: 60 }, (_, i) => (i % 4 === 0 ? "open" : "closed")) },
      ],
      [
        { name: "root", num_children: 2 },
        { name: "at", type: "INT64", repetition_type: "REQUIRED", logical_type: { type: "TIMESTAMP", isAdjustedToUTC: false, unit: "MILLIS" } },
        { name: "yard-door", type: "BYTE_ARRAY", repetition_type: "REQUIRED", converted_type: "UTF8" },
      ],
    );
    const { yaml, said } = await drafted({ "door.parquet": file });
    expect(yaml).toContain("# the column holds timestamps without a zone; 60 of 60 stamps read as iso");
    expect(yaml).toContain("      yard-door: yard-door\n");
    expect(said).toContain("left open: source door: whose clock wrote these stamps?");
  });

  it("names the row, and not a line, that shows the order of day and month", async () => {
    const british = (instant: number): string => iso(instant + 10 * 86_400_000).replace(/^(\d+)-(\d+)-(\d+)T(.*)Z/, "$3/$2/$1 $4");
    const rows = meterRows([{ channel: "d1", bay: 1, near: 4.2, far: 8.1 }], british);
    const { yaml } = await drafted({ "log.parquet": parquetLog(rows, (stamps) => ({ name: "stamp", data: [...stamps], type: "STRING" })) });
    expect(yaml).toContain('written: "dd/MM/yyyy HH:mm:ss"');
    // From 12:00 on 11 June every five minutes: the thirteenth begins after a day and a half.
    expect(yaml).toContain('# 2,880 of 2,880 stamps read as dd/MM/yyyy HH:mm:ss; row 433 ("13/06/2026 00:00:00") excludes MM/dd/yyyy HH:mm:ss');
  });

  it("reads yes and no, and passes over columns of something else", async () => {
    const start = Date.UTC(2026, 5, 1, 12);
    const at = Array.from({ length: 200 }, (_, i) => start + i * 3_600_000);
    const file = parquetOf([
      { name: "at", data: at.map((instant) => `${iso(instant).slice(0, -1)}+05:45`), type: "STRING" },
      { name: "shutter-rail", data: at.map((_, i) => (i % 8 < 2 ? "open" : "shut")), type: "STRING" },
      { name: "shutter-hinge", data: at.map((_, i) => i % 8 < 2), type: "BOOLEAN" },
      { name: "temp", data: at.map((_, i) => 12 + (i % 9) / 7), type: "DOUBLE" },
    ]);
    const { yaml, folder } = await drafted({ "door.parquet": file });
    expect(parseSite(yaml, "site.yaml", folder).signals.map(({ id, subject, reading }) => ({ id, subject, reading }))).toEqual([
      { id: "shutter-rail", subject: "shutter", reading: { form: "words", on: ["open"], off: ["shut"] } },
      { id: "shutter-hinge", subject: "shutter", reading: { form: "words", on: ["true"], off: ["false"] } },
    ]);
    expect(yaml).toContain('# not used: column "temp": measures something else than a distance');
    expect(await checked(folder)).toContain("200 rows read = 200 accepted + 0 duplicate + 0 set aside");
  });
});

describe("Parquet that cannot be drafted from", () => {
  const whole = parquetLog(meters.slice(0, 40), (stamps) => ({ name: "stamp", data: [...stamps], type: "STRING" }));
  it.each<[string, string | Uint8Array, RegExp]>([
    ["is cut off", whole.subarray(0, whole.length - 30), /^a\.parquet: The Parquet file cannot be read\. Expected a whole Parquet file; found .*\. To mend it: copy or export it again\.$/],
    ["is text", "stamp,channel\n", /^a\.parquet: The Parquet file cannot be read\./],
    ["is empty", "", /^a\.parquet: The Parquet file cannot be read\./],
    ["has no rows", parquetOf([{ name: "stamp", data: [], type: "STRING" }, { name: "door", data: [], type: "STRING" }]), /^a\.parquet: The Parquet file has no rows\. Expected rows of readings; found none\./],
    ["has one column", parquetOf([{ name: "stamp", data: ["2026-06-01T12:00:00Z"], type: "STRING" }]), /^a\.parquet: The Parquet file has one column only\./],
    ["has no time", parquetOf([{ name: "day", data: ["Monday"], type: "STRING" }, { name: "door", data: ["open"], type: "STRING" }]), /^a\.parquet: No column holds time stamps that can be read\. .*found the columns "day", "door"/],
  ])("%s: it is named, with what is wrong, and nothing is written", async (_, file, message) => {
    const { status, told, folder } = await drafted({ "a.parquet": file });
    expect(status).toBe(2);
    expect(told.trimEnd()).toMatch(message);
    await expect(readFile(join(folder, "site.yaml"))).rejects.toThrow("ENOENT");
  });
});
