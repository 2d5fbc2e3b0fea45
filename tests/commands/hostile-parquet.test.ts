import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parquetMetadata, type ColumnMetaData } from "hyparquet";
import { parquetWriteBuffer } from "hyparquet-writer";
import { describe, expect, it } from "vitest";
import { folderWith, tinySite } from "./tiny-site.js";

const program = join(import.meta.dirname, "../../.build/cli.js");

/** A whole number as the format writes it: seven bits a byte, the last one first; signed ones by turns. */
function varint(value: bigint, isSigned = true): Buffer {
  let rest = isSigned ? (value < 0n ? -2n * value - 1n : 2n * value) : value;
  const bytes = [];
  for (; rest > 127n; rest >>= 7n) bytes.push(Number(rest & 127n) | 128);
  return Buffer.from([...bytes, Number(rest)]);
}

const rows = 60;
const text = (name: string, of: (i: number) => string): { name: string; data: string[]; type: "STRING" } => ({ name, data: Array.from({ length: rows }, (_, i) => of(i)), type: "STRING" });

/** An export whose last column has one page of whole numbers; the page says of itself what it is told to, in some fifty bytes. */
function parquetWith(page: { readonly values: bigint; readonly nulls: bigint }): Buffer {
  const whole = Buffer.from(parquetWriteBuffer({
    columnData: [text("at", (i) => `2026-06-01T10:00:${String(i).padStart(2, "0")}Z`), text("what", () => "rail"), text("says", () => "open"), { name: "count", data: Array.from({ length: rows }, (_, i) => BigInt(i)), type: "INT64", encoding: "DELTA_BINARY_PACKED" }],
    codec: "UNCOMPRESSED",
    statistics: false,
  }));
  const metadata = parquetMetadata(whole.buffer.slice(whole.byteOffset, whole.byteOffset + whole.length));
  const { data_page_offset: start, total_compressed_size: bytes } = metadata.row_groups[0]?.columns.at(-1)?.meta_data as ColumnMetaData;
  // One stretch of 2^30 values that all differ by one from the one before, written without a bit each.
  const data = Buffer.concat([varint(1n << 30n, false), varint(1n, false), varint(page.values, false), varint(0n), varint(1n), Buffer.from([0])]);
  const levels = Buffer.concat([varint(page.values << 1n, false), Buffer.from([1])]);
  const size = varint(BigInt(levels.length + data.length));
  const field = (value: Buffer): Buffer => Buffer.concat([Buffer.from([0x15]), value]);
  // A page of data, version 2: its sizes; then values, nulls, rows, encoding (5: differences), bytes of levels.
  const header = Buffer.concat([field(varint(3n)), field(size), field(size), Buffer.from([0x5c]), field(varint(page.values)), field(varint(page.nulls)), field(varint(BigInt(rows))), field(varint(5n)), field(varint(BigInt(levels.length))), field(varint(0n)), Buffer.from([0, 0])]);
  const chunk = Buffer.concat([header, levels, data]);
  // The table of contents tells the size of the last column twice: the fields 6 and 7.
  const footer = whole.subarray(Number(start + bytes));
  const sized = (of: bigint): Buffer => Buffer.concat([Buffer.from([0x16]), varint(of), Buffer.from([0x16]), varint(of)]);
  const at = footer.lastIndexOf(sized(bytes));
  expect([at > 0, sized(bytes).length]).toEqual([true, sized(BigInt(chunk.length)).length]);
  return Buffer.concat([whole.subarray(0, Number(start)), chunk, footer.subarray(0, at), sized(BigInt(chunk.length)), footer.subarray(at + sized(bytes).length)]);
}

/** Writes down, for every program that the command starts, how much memory it took at most, twenty times a second: some are ended in their work. */
const watching = `data:text/javascript,${encodeURIComponent("import{writeFileSync as w}from'node:fs';import{isMainThread as m}from'node:worker_threads';const t=()=>w(process.env.PEAKS+'/'+process.pid,String(process.resourceUsage().maxRSS));if(m){t();setInterval(t,50).unref();process.on('exit',t)}")}`;

interface Ran {
  readonly status: number | null;
  readonly told: string;
  /** Of the program that took most. */
  readonly peakMegabytes: number;
}

function ran(folder: string, words: readonly string[]): Ran {
  const peaks = mkdtempSync(join(tmpdir(), "keyworthy-peaks-"));
  const { status, stderr } = spawnSync(process.execPath, [program, ...words], { cwd: folder, encoding: "utf8", timeout: 50_000, killSignal: "SIGKILL", env: { ...process.env, NODE_OPTIONS: `--import ${watching}`, PEAKS: peaks } });
  const all = readdirSync(peaks).map((name) => Number(readFileSync(join(peaks, name), "utf8")) / 1024);
  expect(all.length).toBeGreaterThan(1);
  return { status, told: stderr, peakMegabytes: Math.max(...all) };
}

describe("a Parquet file of some kilobytes", () => {
  const site = tinySite.replace("files: log.csv", "files: log.parquet");

  it("is read as long as its page says what it holds", async () => {
    const folder = await folderWith({ "site.yaml": site, "log.parquet": parquetWith({ values: BigInt(rows), nulls: 0n }) });
    expect(ran(folder, ["check", "site.yaml"]).status).toBe(0);
    expect(ran(folder, ["draft", "log.parquet"]).told).not.toContain("cannot be read");
  }, 120_000);

  it.each([
    ["2^31 values", { values: (1n << 31n) - 1n, nulls: 0n }, "Expected a Parquet file with at most 20,000,000 values in a page; found a page that says it holds 2,147,483,647 values. To mend it: copy or export it again."],
    ["fewer values than none", { values: -60n, nulls: 0n }, "Expected a whole Parquet file; found a page of -60 values, 0 of them null. To mend it: copy or export it again."],
    ["fewer nulls than none", { values: 60n, nulls: -(1n << 31n) }, "Expected a whole Parquet file; found a page of 60 values, -2147483648 of them null. To mend it: copy or export it again."],
  ])("whose page claims %s is refused by name, and takes no memory", async (_, page, told) => {
    const folder = await folderWith({ "site.yaml": site.replace("value: says", "value: count"), "log.parquet": parquetWith(page) });
    const drafted = ran(folder, ["draft", "log.parquet"]);
    const checked = ran(folder, ["check", "site.yaml"]);
    for (const { status, told: said, peakMegabytes } of [drafted, checked]) {
      expect(said).toBe(`log.parquet: The Parquet file cannot be read. ${told}\n`);
      expect(status).toBe(2);
      expect(peakMegabytes).toBeLessThan(200);
    }
  }, 120_000);
});
