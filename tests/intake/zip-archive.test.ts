import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { intakeOf, longSource } from "./example-site.js";
import { zipOf } from "./invented-holders.js";

const rows = (day: number, ...values: readonly number[]): string => `stamp,channel,reading\n${values.map((value, i) => `2026-10-0${day}T1${i}:00:00Z,d1,${value}\n`).join("")}`;
const from = (...files: readonly string[]) => ({ sources: [longSource({ files })] });
const ledgerOf = ({ ledger }: Awaited<ReturnType<typeof intakeOf>>): string[] => ledger.map(({ file, read, accepted, setAside }) => `${file}: ${read} = ${accepted} + ${setAside}`);
const refusal = (files: Readonly<Record<string, string | Uint8Array>>, ...names: readonly string[]): Promise<string> => intakeOf(files, from(...names)).then(() => "read", (error: unknown) => (error as Error).message);

describe("a zip archive", () => {
  it("is read member by member, each with its line of the ledger", async () => {
    const archive = zipOf([["one.csv", rows(1, 4, 5)], ["old/two.csv.gz", gzipSync(rows(2, 6))], ["three.csv", { content: rows(3, 7).replace("7", "far"), stored: true }]]);
    const read = await intakeOf({ "oct.zip": archive }, from("oct.zip"));
    expect(ledgerOf(read)).toEqual(["oct.zip/old/two.csv.gz: 1 = 1 + 0", "oct.zip/one.csv: 2 = 2 + 0", "oct.zip/three.csv: 1 = 0 + 1"]);
    expect(read.pairs["overhead"]!.map(([at]) => at.slice(5, 13))).toEqual(["10-01T10", "10-01T11", "10-02T10"]);
    expect(read.setAside.map(({ file, line }) => `${file}:${line}`)).toEqual(["oct.zip/three.csv:2"]);
  });

  it("may have some of its members named, and archives some by a pattern", async () => {
    const archive = zipOf([["door 1.csv", rows(1, 4)], ["log [a].csv", rows(2, 5)], ["deep/er/log.csv", rows(3, 6)], ["readme.txt", "hello"]]);
    const read = async (...names: readonly string[]) => (await intakeOf({ "x/oct.zip": archive, "x/nov.ZIP": archive }, from(...names))).ledger.map(({ file }) => file);
    expect(await read("x/oct.zip/door*.csv")).toEqual(["x/oct.zip/door 1.csv"]);
    expect(await read("x/oct.zip/log [a].csv")).toEqual(["x/oct.zip/log [a].csv"]);
    expect(await read("x/*.zip/**/log*.csv")).toEqual(["x/oct.zip/deep/er/log.csv", "x/oct.zip/log [a].csv"]);
    expect(await read("x/*.zip/door ?.csv", "x/*.ZIP/door*", "x/oct.zip/door 1.csv")).toEqual(["x/nov.ZIP/door 1.csv", "x/oct.zip/door 1.csv"]);
  });

  it("is not taken for one where a folder is called so", async () => {
    expect(ledgerOf(await intakeOf({ "oct.zip/one.csv": rows(1, 4) }, from("oct.zip/*.csv")))).toEqual(["oct.zip/one.csv: 1 = 1 + 0"]);
  });

  it("is read without what packing programs add to it", async () => {
    const archive = zipOf([["folder/", ""], ["folder/one.csv", rows(1, 4)], ["__MACOSX/folder/._one.csv", "x"], ["folder/.DS_Store", "x"]]);
    expect(ledgerOf(await intakeOf({ "oct.zip": archive }, from("oct.zip")))).toEqual(["oct.zip/folder/one.csv: 1 = 1 + 0"]);
  });

  it("says which members it has where none is called so", async () => {
    expect(await refusal({ "oct.zip": zipOf([["one.csv", rows(1, 4)]]) }, "oct.zip/two.csv")).toBe(
      'oct.zip: Nothing in it is called "two.csv". Expected exports for source "board"; found "one.csv". To mend it: name one of these behind the file and a slash, or * for all of them.',
    );
  });

  it("with nothing in it is refused, rather than passed over", async () => {
    expect(await refusal({ "oct.zip": zipOf([["folder/", ""]]), "a.csv": rows(1, 4) }, "oct.zip", "a.csv")).toBe("oct.zip: The file holds no export. Expected files or tables with readings; found none. To mend it: export it again, or leave it out.");
  });

  it("that is cut off, damaged, or no archive is refused whole", async () => {
    const whole = zipOf([["one.csv", { content: rows(1, 4, 5, 6), stored: true }]]);
    const expected = "Expected a whole zip archive (spreadsheets are such archives too)";
    expect(await refusal({ "oct.zip": whole.subarray(0, 60) }, "oct.zip")).toMatch(`oct.zip: The file cannot be unpacked. ${expected}; found `);
    expect(await refusal({ "oct.zip": Buffer.from("stamp,channel") }, "oct.zip")).toMatch(`oct.zip: The file cannot be unpacked. ${expected}; found `);
    const changed = Buffer.from(whole);
    changed.write("9", changed.indexOf(",4\n") + 1);
    expect(await refusal({ "oct.zip": changed }, "oct.zip")).toBe(`oct.zip/one.csv: The file cannot be unpacked. ${expected}; found another checksum than its table of contents says. To mend it: copy or export it again.`);
  });

  it("that unpacks to far more than its size is refused before it is unpacked", async () => {
    const bomb = zipOf(Array.from({ length: 3 }, (_, i) => [`${i}.csv`, { content: rows(1, 4), saidBytes: 40_000_000 }] as const));
    expect(await refusal({ "oct.zip": bomb }, "oct.zip")).toMatch(/^oct\.zip: The zip archive unpacks to more than is read\. Expected at most 200 times its size, and 100 MB in any case; found 120,000,000 bytes from \d+\. To mend it: if it is what it should be, unpack it, and name the files\.$/);
  });

  it("whose members unpack to another size than it says is refused", async () => {
    expect(await refusal({ "oct.zip": zipOf([["one.csv", { content: rows(1, 4, 5), saidBytes: 20 }]]) }, "oct.zip")).toMatch(/^oct\.zip\/one\.csv: The file cannot be unpacked\. /);
  });

  it("of too many members, of two of one name, with a password or another packing is refused, and says how to go on", async () => {
    const mend = "To mend it: unpack it, and name the files.";
    expect(await refusal({ "oct.zip": zipOf(Array.from({ length: 1001 }, (_, i) => [`${i}.csv`, "x"] as const)) }, "oct.zip")).toBe(`oct.zip: The zip archive holds too many files. Expected at most 1,000; found 1,001. ${mend}`);
    expect(await refusal({ "oct.zip": zipOf([["a.csv", rows(1, 4)], ["a.csv", rows(2, 5)]]) }, "oct.zip")).toBe(`oct.zip: The zip archive holds two files of one name. Expected each name once; found "a.csv" twice. ${mend}`);
    expect(await refusal({ "oct.zip": zipOf([["a.csv", { content: rows(1, 4), flags: 1 }]]) }, "oct.zip")).toBe(`oct.zip/a.csv: "a.csv" in the zip archive cannot be unpacked. Expected files without a password; found one with a password. ${mend}`);
    expect(await refusal({ "oct.zip": zipOf([["a.csv", { content: rows(1, 4), method: 14 }]]) }, "oct.zip")).toBe(`oct.zip/a.csv: "a.csv" in the zip archive cannot be unpacked. Expected files that are stored or deflated; found packing method 14. ${mend}`);
  });

  it("with archives, spreadsheets or Parquet in it says which command unpacks it", async () => {
    expect(await refusal({ "my oct.zip": zipOf([["inner.zip", zipOf([["a.csv", rows(1, 4)]])]]) }, "my oct.zip")).toBe(
      "my oct.zip/inner.zip: This file is not read out of a zip archive. Expected CSV, JSON or GPX in the archive, also with .gz; found a file that ends in .zip. To mend it: unpack the archive, and name the file: unzip 'my oct.zip'.",
    );
    expect(await refusal({ "oct.zip": zipOf([["a.parquet", "PAR1"]]) }, "oct.zip")).toContain("found a file that ends in .parquet");
  });
});
