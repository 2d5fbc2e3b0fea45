import { open, type FileHandle } from "node:fs/promises";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { parquetMetadataAsync, parquetReadObjects, parquetSchema, type AsyncBuffer, type Compressors, type FileMetaData } from "hyparquet";
import { compressors } from "hyparquet-compressors";
import { InputError } from "../ground/problem.js";
import type { InputFile } from "./files.js";
import { faultOfPages } from "./parquet-pages.js";
import type { RowSink } from "./row-sink.js";

/** Unpack with the platform's own code where it has it. */
const unpackers: Compressors = Object.fromEntries(
  Object.entries({
    ...compressors,
    GZIP: (bytes: Uint8Array, length: number) => new Uint8Array(gunzipSync(bytes, { maxOutputLength: Math.max(1, length) })),
    BROTLI: (bytes: Uint8Array, length: number) => new Uint8Array(brotliDecompressSync(bytes, { maxOutputLength: Math.max(1, length) })),
  }).map(([codec, unpack]) => [codec, (bytes: Uint8Array, length: number) => unpack(bytes, checkedLength(bytes, length))]),
);

/** A page of a megabyte is usual; a flipped byte makes gigabytes of it. Our own choice. */
const MOST_PAGE_BYTES = 256_000_000;

function checkedLength(bytes: Uint8Array, length: number): number {
  if (length >= 0 && length <= MOST_PAGE_BYTES) return length;
  throw new Error(`a page of ${bytes.length} bytes that says it unpacks to ${length}`);
}

/** Rows unpacked at a time. */
const ROWS_AT_A_TIME = 65_536;

/** A top-level column. `clock`: whose clock its timestamps show; null where it holds something else. */
export interface ParquetColumn {
  readonly name: string;
  readonly clock: "in UTC" | "without a zone" | null;
}

/**
 * Reads a Parquet file as if it were text with a header: its top-level columns are the columns; a row's line is its number,
 * counted from 1. Numbers are written with a point, `true` and `false` as such, null as an empty cell, and a timestamp in
 * ISO 8601: with `Z` where the file says that it is UTC, else as a local time. Only `wanted` columns are unpacked (null:
 * all), others are empty. `afterRows` is told the share of rows read, and says whether to go on.
 * Throws `InputError` if the file is not whole: the table of contents of a Parquet file stands at its end.
 */
export async function readParquet(
  file: InputFile,
  wanted: readonly string[] | null,
  sink: RowSink,
  afterRows: (share: number) => boolean | Promise<boolean>,
): Promise<void> {
  const handle = await open(file.path);
  try {
    const buffer = bufferOver(handle, file.bytes);
    const metadata = await orProblem(file.name, () => parquetMetadataAsync(buffer));
    const columns = await orProblem(file.name, () => columnsIn(metadata));
    sink.row(columns.map(({ name }) => name), 0, true);
    const names = columns.map(({ name }) => name).filter((name) => wanted?.some((one) => one.trim() === name.trim()) ?? true);
    const fault = await orProblem(file.name, () => faultOfPages(buffer, metadata, names));
    if (fault !== null) throw damaged(file.name, fault.found, fault.expected ?? undefined);
    const total = Number(metadata.num_rows);
    for (let start = 0; start < total; start += ROWS_AT_A_TIME) {
      const end = Math.min(start + ROWS_AT_A_TIME, total);
      const rows = await orProblem(file.name, () => rowsOf(buffer, metadata, names, start, end));
      if (rows.length < end - start) throw damaged(file.name, `${(start + rows.length).toLocaleString("en-GB")} rows, of ${total.toLocaleString("en-GB")} that it says it has`);
      rows.forEach((row, i) => {
        sink.row(columns.map(({ name, clock }) => cellText(row[name], clock)), start + i + 1, true);
      });
      if (!(await afterRows(end / total))) break;
    }
  } finally {
    await handle.close();
  }
}

/** The top-level columns of a file. Throws `InputError` if it is not whole. */
export async function parquetColumns(file: InputFile): Promise<ParquetColumn[]> {
  const handle = await open(file.path);
  try {
    return await orProblem(file.name, async () => columnsIn(await parquetMetadataAsync(bufferOver(handle, file.bytes))));
  } finally {
    await handle.close();
  }
}

function columnsIn(metadata: FileMetaData): ParquetColumn[] {
  return parquetSchema(metadata).children.map(({ element }) => {
    // In a damaged file anything may stand where the name should.
    if (typeof (element.name as unknown) !== "string") throw new Error("a column without a name");
    return { name: element.name, clock: clockOf(element) };
  });
}

function rowsOf(file: AsyncBuffer, metadata: FileMetaData, columns: string[], rowStart: number, rowEnd: number): Promise<Record<string, unknown>[]> {
  return parquetReadObjects({ file, metadata, columns, rowStart, rowEnd, compressors: unpackers });
}

function bufferOver(handle: FileHandle, byteLength: number): AsyncBuffer {
  return {
    byteLength,
    async slice(start, end = byteLength) {
      // In a damaged file both may lie anywhere.
      const bytes = new Uint8Array(Math.max(0, Math.min(end, byteLength) - start));
      const { bytesRead } = await handle.read(bytes, 0, bytes.length, start);
      return bytes.buffer.slice(0, bytesRead);
    },
  };
}

/** Whatever the library throws means that the file is not what its name says: it reads nothing but the file. */
async function orProblem<Value>(file: string, work: () => Value | Promise<Value>): Promise<Value> {
  try {
    return await work();
  } catch (error) {
    // The library trips over damaged data: what over is of no use to anybody.
    const found = error instanceof Error && !(error instanceof TypeError || error instanceof RangeError) ? error.message.slice(0, 200) : "damaged data";
    throw damaged(file, found);
  }
}

function damaged(file: string, found: string, expected = "a whole Parquet file"): InputError {
  return new InputError([{ code: "file-binary", what: "The Parquet file cannot be read", file, expected, found, mend: "copy or export it again" }]);
}

/** The format's older ways of writing timestamps say nothing of a zone, and mean UTC. */
function clockOf({ type, converted_type: older, logical_type: logical }: ReturnType<typeof parquetSchema>["element"]): ParquetColumn["clock"] {
  if (logical?.type === "TIMESTAMP") return logical.isAdjustedToUTC ? "in UTC" : "without a zone";
  return type === "INT96" || older === "TIMESTAMP_MILLIS" || older === "TIMESTAMP_MICROS" ? "in UTC" : null;
}

function cellText(value: unknown, clock: ParquetColumn["clock"]): string {
  if (typeof value === "string") return value;
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? "" : clock === "without a zone" ? value.toISOString().slice(0, -1) : value.toISOString();
  return typeof value === "number" || typeof value === "bigint" || typeof value === "boolean" ? String(value) : "";
}
