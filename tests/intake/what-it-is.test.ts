import { expect, it } from "vitest";
import { problem, problemText } from "../../src/ground/problem.js";
import { problemOfFormat } from "../../src/intake/what-it-is.js";

const says = (file: string, ...bytes: (string | number)[]): string | null => {
  const found = problemOfFormat(file, Buffer.concat(bytes.map((one) => (typeof one === "string" ? Buffer.from(one, "latin1") : Buffer.alloc(one)))));
  return found === null ? null : problemText(problem(found));
};
const expected = "Expected CSV, JSON, Parquet or GPX, a spreadsheet (.xlsx), an SQLite database, or a zip archive of exports";

it.each([
  ["log.ods", ["PK\u0003\u0004"], `log.ods: This is a spreadsheet, which is not read. ${expected}; found a spreadsheet. To mend it: turn it into text with: libreoffice --headless --convert-to csv log.ods.`],
  ["my log.xls", ["\u00d0\u00cf\u0011\u00e0"], `my log.xls: This is an old spreadsheet, which is not read. ${expected}; found an old spreadsheet. To mend it: turn it into text with: libreoffice --headless --convert-to csv 'my log.xls'.`],
  ["oct.kmz", ["PK\u0003\u0004"], "oct.kmz: The file is a zip archive, and its name does not end in .zip. Expected CSV as text; found zip data. To mend it: rename it, also in the site file: mv oct.kmz oct.kmz.zip; a spreadsheet needs .xlsx."],
  ["house.dat", ["SQLite format 3\u0000"], "house.dat: The file is an SQLite database, and its name does not end in .db. Expected CSV as text; found an SQLite database. To mend it: rename it, also in the site file: mv house.dat house.dat.db."],
  ["a.csv", ["\u001f\u008b\u0008"], "a.csv: The file is packed with gzip, and its name does not end in .gz. Expected CSV as text; found gzip data. To mend it: rename it, also in the site file: mv a.csv a.csv.gz."],
  ["a.tar", [257, "ustar"], `a.tar: This is a tar archive, which is not read. ${expected}; found a tar archive. To mend it: turn it into text with: tar -xf a.tar.`],
])("says of %s what it is, and the one command that makes text of it", (file, bytes, text) => {
  expect(says(file, ...bytes)).toBe(text);
});

it("has nothing to say of text", () => {
  expect(says("a.csv", "at,says\n")).toBeNull();
  expect(says("a.csv", "BZhang,1\n")).toBeNull();
});
