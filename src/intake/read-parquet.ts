import { open, type FileHandle } from "node:fs/promises";
import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { parquetMetadataAsync, parquetReadObjects, parquetSchema, type AsyncBuffer, type FileMetaData } from "hyparquet";
import { compressors } from "hyparquet-compressors";
import { InputError } from "../ground/problem.js";
import type { InputFile } from "./files.js";
import type { RowIntake } from "./row-intake.js";

/** Packed by the platform's own code where it has it. */
const unpackers = { ...compressors, GZIP: (bytes: Uint8Array) => new Uint8Array(gunzipSync(bytes)), BROTLI: (bytes: Uint8Array) => new Uint8Array(brotliDecompressSync(bytes)) };

/** As many rows are unpacked at a time. */
const ROWS_AT_A_TIME = 65_536;

/**
 * Reads a Parquet file as if it were text with a header: its top-level columns are the columns; a row's line is its number,
 * counted from 1. Numbers are written with a point, `true` and `false` as such, null as an empty cell, and a timestamp in
 * ISO 8601: with `Z` where the file says that it is UTC, else as a local time. Only `wanted` columns are unpacked.
 * Throws `InputError` if the file is not whole: the table of contents of a Parquet file stands at its end.
 */
export async function readParquet(file: InputFile, wanted: readonly string[], intake: RowIntake, afterRows: (share: number) => void | Promise<void>): Promise<void> {
  const handle = await open(file.path);
  try {
    const buffer = bufferOver(handle, file.bytes);
    const metadata = await orProblem(file.name, () => parquetMetadataAsync(buffer));
    const columns = parquetSchema(metadata).children.map(({ element }) => ({ name: element.name, isLocal: isLocalTime(element) }));
    intake.row(columns.map(({ name }) => name), 0);
    const names = columns.filter(({ name }) => wanted.some((one) => one.trim() === name.trim())).map(({ name }) => name);
    const total = Number(metadata.num_rows);
    for (let start = 0; start < total; start += ROWS_AT_A_TIME) {
      const end = Math.min(start + ROWS_AT_A_TIME, total);
      const rows = await orProblem(file.name, () => rowsOf(buffer, metadata, names, start, end));
      rows.forEach((row, i) => {
        intake.row(columns.map(({ name, isLocal }) => cellText(row[name], isLocal)), start + i + 1);
      });
      await afterRows(end / total);
    }
  } finally {
    await handle.close();
  }
}

function rowsOf(file: AsyncBuffer, metadata: FileMetaData, columns: string[], rowStart: number, rowEnd: number): Promise<Record<string, unknown>[]> {
  return parquetReadObjects({ file, metadata, columns, rowStart, rowEnd, compressors: unpackers });
}

function bufferOver(handle: FileHandle, byteLength: number): AsyncBuffer {
  return {
    byteLength,
    async slice(start, end = byteLength) {
      const bytes = new Uint8Array(Math.max(0, end - start));
      const { bytesRead } = await handle.read(bytes, 0, bytes.length, start);
      return bytes.buffer.slice(0, bytesRead);
    },
  };
}

/** Whatever the reader throws means that the file is not what its name says: it reads nothing but the file. */
async function orProblem<Value>(file: string, work: () => Promise<Value>): Promise<Value> {
  try {
    return await work();
  } catch (error) {
    const found = error instanceof Error ? error.message.slice(0, 200) : "something else";
    throw new InputError([{ code: "file-binary", what: "The Parquet file cannot be read", file, expected: "a whole Parquet file", found, mend: "copy or export it again" }]);
  }
}

/** A time of day without a zone; what says nothing about it is UTC by the format's older rule. */
function isLocalTime({ logical_type: type }: ReturnType<typeof parquetSchema>["element"]): boolean {
  return type?.type === "TIMESTAMP" && !type.isAdjustedToUTC;
}

function cellText(value: unknown, isLocal: boolean): string {
  if (typeof value === "string") return value;
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? "" : isLocal ? value.toISOString().slice(0, -1) : value.toISOString();
  return typeof value === "number" || typeof value === "bigint" || typeof value === "boolean" ? String(value) : "";
}
