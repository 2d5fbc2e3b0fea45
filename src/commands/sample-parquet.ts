import { asyncBufferFromFile, parquetMetadataAsync, parquetSchema } from "hyparquet";
import type { ColumnSample } from "../draft/column-sample.js";
import type { InputFile } from "../intake/files.js";
import { readParquet } from "../intake/read-parquet.js";
import { makeSampleSink } from "./sample-sink.js";

/** Reads a Parquet file for a first look, keeping up to `bound` characters. Throws `InputError` if it is none, or not whole. */
export async function sampleParquet(file: InputFile, bound: number): Promise<ColumnSample> {
  const sink = makeSampleSink(bound);
  const columns = await columnsOf(file.path);
  await readParquet(file, columns.map(({ name }) => name), sink.intake, () => undefined);
  const { header, rows, oddRows, whole } = sink.sampled();
  return { name: file.name, bytes: file.bytes, format: { form: "parquet", timestamps: new Map(columns.flatMap(({ name, timestamps }) => (timestamps === null ? [] : [[name.trim(), timestamps]]))) }, header, rows, oddRows, whole };
}

interface ParquetColumn {
  readonly name: string;
  /** Whose clock the column's timestamps show; null where it holds something else. */
  readonly timestamps: string | null;
}

/** The top-level columns; none of a file that is broken: reading its rows will say so, in an audit's words. */
async function columnsOf(path: string): Promise<ParquetColumn[]> {
  try {
    const metadata = await parquetMetadataAsync(await asyncBufferFromFile(path));
    return parquetSchema(metadata).children.map(({ element }) => ({ name: element.name, timestamps: timestampsOf(element) }));
  } catch {
    return [];
  }
}

/** The format's older ways of writing timestamps say nothing of a zone, and mean UTC. */
function timestampsOf({ type, converted_type: older, logical_type: logical }: ReturnType<typeof parquetSchema>["element"]): string | null {
  if (logical?.type === "TIMESTAMP") return logical.isAdjustedToUTC ? "in UTC" : "without a zone";
  return type === "INT96" || older === "TIMESTAMP_MILLIS" || older === "TIMESTAMP_MICROS" ? "in UTC" : null;
}
