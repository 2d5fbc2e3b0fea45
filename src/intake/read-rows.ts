import { InputError, type ProblemParts } from "../ground/problem.js";
import { fileChunks, type InputFile } from "./files.js";
import type { TextWriting } from "./read-text.js";
import type { ChunkReader, RowSink } from "./row-sink.js";

/** How an export is to be read. */
export interface RowRequest extends TextWriting {
  /** The columns whose cells are wanted; null for all. A format may leave the cells of others empty. */
  readonly columns: readonly string[] | null;
}

/** Called with the bytes of the file on disk that have been read; reading waits for the answer, and stops at `false`. */
export type GoOn = (bytes: number) => boolean | Promise<boolean>;

/** The format of an export: what holds it says, else its name: `.parquet`, `.gpx`, `.json`, `.jsonl` or `.ndjson` (also with `.gz`); everything else is text. */
export function exportForm({ name, part }: Pick<InputFile, "name" | "part">): "text" | "gpx" | "parquet" | "json" | "sheet" | "table" {
  if (part?.holder === "spreadsheet") return "sheet";
  if (part?.holder === "database") return "table";
  const lowerName = name.toLowerCase();
  if (lowerName.endsWith(".parquet")) return "parquet";
  if (/\.(?:json|jsonl|ndjson)(\.gz)?$/.test(lowerName)) return "json";
  return /\.gpx(\.gz)?$/.test(lowerName) ? "gpx" : "text";
}

/**
 * Reads an export's rows into `sink`, whatever its format, packed or not. Throws `InputError` if the file cannot be read
 * or is not what its name says, or whatever the sink throws.
 */
export async function readRows(file: InputFile, request: RowRequest, sink: RowSink, goOn: GoOn): Promise<void> {
  // Load a format when a file needs it: with all of them, a thread would take twice as long to start.
  if (file.part?.holder === "zip") {
    const { problemOfMember } = await import("./zip-archive.js");
    const problem = problemOfMember(file);
    if (problem !== null) throw new InputError([problem]);
  }
  switch (exportForm(file)) {
    case "parquet": {
      const { readParquet } = await import("./read-parquet.js");
      await readParquet(file, request.columns, sink, (share) => goOn(Math.round(file.bytes * share)));
      return;
    }
    case "sheet": {
      const { readSheet } = await import("./read-sheet.js");
      await readSheet(file, file.part?.name ?? "", sink, goOn);
      await goOn(file.bytes);
      return;
    }
    case "table": {
      const { readTable } = await import("./database.js");
      await readTable(file, file.part?.name ?? "", sink, () => goOn(0));
      await goOn(file.bytes);
      return;
    }
    case "gpx": {
      const { makeGpxReader } = await import("./read-gpx.js");
      return readChunks(file, makeGpxReader(file.name, sink), goOn);
    }
    case "json": {
      const { makeJsonReader } = await import("./read-json.js");
      return readChunks(file, makeJsonReader(file.name, sink), goOn);
    }
    case "text": {
      const { makeTextReader } = await import("./read-text.js");
      return readChunks(file, makeTextReader(file.name, request, sink), goOn);
    }
  }
}

async function readChunks(file: InputFile, reader: ChunkReader, goOn: GoOn): Promise<void> {
  let read = 0;
  let told = 0;
  // Set in a callback, which the compiler does not see.
  let cutOff = false as boolean;
  for await (const chunk of fileChunks(file, { onBytes: (bytes) => (read = bytes), onCutOff: () => (cutOff = true) })) {
    // Tell of a chunk when the next one comes: so the last call comes after the last row.
    if (told > 0 && !(await goOn(told))) break;
    reader.push(chunk);
    told = read;
  }
  if (cutOff && told === 0) throw new InputError([cutOffAtOnce(file.name)]);
  try {
    reader.end(cutOff);
  } catch (error) {
    // A cut before the first row may go through the header: then the header, or the format, is not what is wrong.
    throw cutOff && error instanceof InputError ? new InputError([cutOffAtOnce(file.name)]) : error;
  }
  await goOn(Math.max(told, read));
}

function cutOffAtOnce(name: string): ProblemParts {
  return {
    code: "file-cut-off",
    what: "The packed file is cut off before its first row",
    file: name,
    expected: "a whole gzip file",
    found: "its end before the end of the data",
    mend: "copy or export it again",
  };
}
