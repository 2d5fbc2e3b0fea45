import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";
import { problem, problemText } from "../../src/ground/problem.js";
import { problemOfFormat } from "../../src/intake/what-it-is.js";

const says = (file: string, ...bytes: (string | number)[]): string | null => {
  const found = problemOfFormat(file, Buffer.concat(bytes.map((one) => (typeof one === "string" ? Buffer.from(one, "latin1") : Buffer.alloc(one)))));
  return found === null ? null : problemText(problem(found));
};
const expected = "Expected CSV, JSON, Parquet or GPX, a spreadsheet (.xlsx), an SQLite database, or a zip archive of exports";

it.each([
  ["log.ods", ["PK\u0003\u0004"], `log.ods: This is a spreadsheet, which is not read. ${expected}; found a spreadsheet. To mend it: turn it into text with: mkdir log.ods-csv && libreoffice --headless --convert-to csv --outdir log.ods-csv log.ods.`],
  ["my log.xls", ["\u00d0\u00cf\u0011\u00e0"], `my log.xls: This is an old spreadsheet, which is not read. ${expected}; found an old spreadsheet. To mend it: turn it into text with: mkdir 'my log.xls-csv' && libreoffice --headless --convert-to csv --outdir 'my log.xls-csv' 'my log.xls'.`],
  ["oct.kmz", ["PK\u0003\u0004"], "oct.kmz: The file is a zip archive, and its name does not end in .zip. Expected CSV as text; found zip data. To mend it: rename it, also in the site file: mv -i oct.kmz oct.kmz.zip; a spreadsheet needs .xlsx."],
  ["house.dat", ["SQLite format 3\u0000"], "house.dat: The file is an SQLite database, and its name does not end in .db. Expected CSV as text; found an SQLite database. To mend it: rename it, also in the site file: mv -i house.dat house.dat.db."],
  ["a.csv", ["\u001f\u008b\u0008"], "a.csv: The file is packed with gzip, and its name does not end in .gz. Expected CSV as text; found gzip data. To mend it: rename it, also in the site file: mv -i a.csv a.csv.gz."],
  ["a.tar", [257, "ustar"], `a.tar: This is a tar archive, which is not read. ${expected}; found a tar archive. To mend it: turn it into text with: tar -xkf a.tar.`],
  ["a.pdf", ["%PDF-"], `a.pdf: This is a PDF, which is not read. ${expected}; found a PDF. To mend it: turn it into text with: (set -C; pdftotext -layout a.pdf - > a.pdf.txt).`],
])("says of %s what it is, and the one command that makes text of it", (file, bytes, text) => {
  expect(says(file, ...bytes)).toBe(text);
});

/** What a shell does with the command of a message, in a folder with the file and what is in its way. */
function runs(file: string, bytes: Uint8Array, others: Readonly<Record<string, string>>): Record<string, string> {
  const folder = mkdtempSync(join(tmpdir(), "what-it-is-"));
  for (const [name, content] of Object.entries({ [file]: bytes, ...others })) writeFileSync(join(folder, name), content);
  const [, command = ""] = /(?:turn it into text with|also in the site file): (.*?)(?:; a spreadsheet needs \.xlsx)?\.$/.exec(says(file, Buffer.from(bytes).toString("latin1")) ?? "") ?? [];
  spawnSync("sh", ["-c", command], { cwd: folder, stdio: ["ignore", "pipe", "pipe"] });
  return Object.fromEntries(readdirSync(folder).filter((name) => name !== file).map((name) => [name, readFileSync(join(folder, name), "latin1")]));
}

it("names a command that writes over nothing, whatever the file is called", () => {
  const packed = gzipSync("t\n1\n");
  expect(runs("a=b.csv", packed, {})).toEqual({ "a=b.csv.gz": packed.toString("latin1") });
  expect(runs("-n.csv", packed, { "-n.csv.gz": "mine" })).toEqual({ "-n.csv.gz": "mine" });
  const made = mkdtempSync(join(tmpdir(), "what-it-is-"));
  writeFileSync(join(made, "log.csv"), "theirs");
  execFileSync("tar", ["-cf", "a.tar", "log.csv"], { cwd: made });
  const tar = readFileSync(join(made, "a.tar"));
  expect(runs("host:a.tar", tar, {})).toEqual({ "log.csv": "theirs" });
  expect(runs("host:a.tar", tar, { "log.csv": "mine" })).toEqual({ "log.csv": "mine" });
});

it("has nothing to say of text", () => {
  expect(says("a.csv", "at,says\n")).toBeNull();
  expect(says("a.csv", "BZhang,1\n")).toBeNull();
});
