import { readFile } from "node:fs/promises";
import { gzipSync } from "node:zlib";
import { expect, it } from "vitest";
import { databaseOf, spreadsheetOf, zipOf } from "../intake/invented-holders.js";
import { rowsThere } from "./independent-counts.js";

const point = '<trkpt lat="1" lon="2"><time>2026-10-01T10:00:00Z</time></trkpt>';
const gpx = (inner: string): string => `<?xml version="1.0"?><gpx><!-- <trkpt/> --><trk><name>a &amp; b</name><trkseg>${inner}</trkseg></trk></gpx>`;
const sheet = spreadsheetOf({ Log: [["a title"], ["at", "says"], null, ["x", 1], [null, true], ["", ""]], More: [["at", "says"]] });
const many = `insert into log select value from (with recursive n(value) as (select 1 union all select value + 1 from n where value < 5000) select value from n)`;
const database = await databaseOf("create table log (n integer)", many, "create view seen as select * from log where n > 3");

it.each<readonly [string, string | Uint8Array, string | null, number | null]>([
  ["a.csv", "at,says\n1,2\r\n3,4\r5,6", null, 3],
  ["a.csv", 'at,says\n"1\n",2\n', null, null],
  ["a.csv.gz", gzipSync("at,says\n1,2\n"), null, 1],
  ["a.zip", zipOf([["one.csv", "at,says\n1,2\n"], ["two.jsonl", '{"at":1}\n{"at":2}\n']]), "two.jsonl", 2],
  ["a.zip", zipOf([["one.csv", { content: "at,says\n1,2\n", crc: 7 }]]), "one.csv", null],
  ["a.json", '[{"at":1},3,{"at":[{}]}]', null, 3],
  ["a.json", '{"n":{"of":2},"rows":[{"at":1},{"at":2}]}', null, 2],
  ["a.json", '{"at":1}\n{"at":\n\n{"at":2}', null, 3],
  ["a.json", '{"at":1\n{"at":2}', null, null],
  ["a.gpx", gpx(point.repeat(3)), null, 3],
  ["a.gpx", gpx(`${point}<trkpt lat="1" lon="2"/>`), null, 2],
  ["a.gpx", gpx(`${point}<trkpt>`), null, null],
  ["a.gpx", gpx(`${point} & `), null, null],
  ["a.xlsx", sheet, "Log", 2],
  ["a.xlsx", sheet, "More", 0],
  ["a.xlsx", sheet, "Other", null],
  ["a.db", database, "log", 5000],
  ["a.db", database, "seen", null],
  ["a.parquet", await readFile("tests/fuzz/samples/zstd-V2.parquet"), null, 300],
  ["a.parquet", "PAR1", null, null],
])("of %s the rows are counted without its reader, or not at all where that is not plain", async (name, content, part, count) => {
  expect(await rowsThere(Buffer.from(content), name, part)).toBe(count);
});
