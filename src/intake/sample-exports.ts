import { stat } from "node:fs/promises";
import { resolve } from "node:path";
import { InputError, problem, type Problem, type ProblemParts } from "../ground/problem.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { fileChunks, type InputFile } from "./files.js";
import { findExports } from "./find-exports.js";
import { exportForm, type RowRequest } from "./read-rows.js";
import type { SampledRows, SampleRow } from "./row-sample.js";
import { sampledRows } from "./sampled-rows.js";
import { lookAtText, LOOKED_AT_BYTES, problemOfRows, type TextLook } from "./text-look.js";

/** Up to this size a file is looked at whole; of a larger one as much is kept (in characters of its cells). Our own choice. */
const MOST_CHARACTERS_A_FILE = 8_000_000;
/** All files together: their rows are held in memory. Our own choice. */
const MOST_CHARACTERS = 40_000_000;
/** Even of very many files this much is kept of each. */
const FEWEST_CHARACTERS_A_FILE = 600_000;

/** What a draft is shown of one export, whatever its format: its columns and a sample of its rows, as an audit reads them. */
export interface ExportSample {
  /** The path as the site file is to name it: relative to the site file's folder. */
  readonly name: string;
  /** Length of the file on disk. */
  readonly bytes: number;
  /** Column names, without spaces around them. */
  readonly header: readonly string[];
  readonly rows: readonly SampleRow[];
  /** The sample is the whole file; else the first rows, the last, and evenly spaced stretches between. */
  readonly whole: boolean;
  /** Rows that are not used: those that do not have the header's columns or repeat it, and those that cannot be split. */
  readonly oddRows: number;
  /** The file stops in the middle: this is what stands before. */
  readonly cutOff: boolean;
  readonly traits: ExportTraits;
}

/** What a format says of an export besides its rows. */
export interface ExportTraits {
  /** How the text is written; null for formats that leave no choice. */
  readonly text: TextLook | null;
  /** What its rows are called, in the plural. */
  readonly rowsAre: "rows" | "rows of Parquet" | "track points of GPX" | "JSON records" | "rows of a sheet" | "rows of a table";
  /** Whether a row's `line` is a line of the file, or only counts rows. */
  readonly hasLines: boolean;
  /** Rows are points of tracks, in the columns `time`, `lat`, `lon` and `track`. */
  readonly hasTracks: boolean;
  /** The columns that hold timestamps, and whose clock these show: `in UTC`, `without a zone`. */
  readonly timestamps: ReadonlyMap<string, string>;
}

/** What could be looked at, and why the rest could not. */
export interface LookedAt {
  readonly samples: readonly ExportSample[];
  readonly unread: readonly Problem[];
}

/**
 * Reads exports for a first look. `names` are paths or globs relative to `folder`. A file that cannot be read does not stop the others;
 * throws `InputError` with a problem for each where none can.
 */
export async function sampleExports(names: readonly string[], folder: string, onProgress: (file: string) => void): Promise<LookedAt> {
  const problems: ProblemParts[] = [];
  const files = await findExports(await withFolders(names, folder), folder, "the draft", problems, "on the command line");
  const share = Math.floor(MOST_CHARACTERS / Math.max(1, files.length));
  const bound = Math.max(FEWEST_CHARACTERS_A_FILE, Math.min(MOST_CHARACTERS_A_FILE, share));
  const samples: ExportSample[] = [];
  for (const file of files) {
    onProgress(file.name);
    try {
      samples.push(await sampleExport(file, bound));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
    }
  }
  if (samples.length === 0) throw new InputError(problems);
  const used = withoutViewed(samples, await viewsIn(files), problems);
  return { samples: used, unread: problems.map(problem) };
}

/** The tables that the views of a database read from, by the view. */
async function viewsIn(files: readonly InputFile[]): Promise<Map<string, readonly string[]>> {
  const views = new Map<string, readonly string[]>();
  const databases = new Map(files.filter(({ part }) => part?.holder === "database").map((file) => [file.path, file]));
  for (const file of databases.values()) {
    const { tablesOf } = await import("./database.js");
    const folder = file.name.slice(0, file.name.length - (file.part?.name.length ?? 0));
    for (const { name, readsFrom } of await tablesOf(file)) if (readsFrom.length > 0) views.set(`${folder}${name}`, readsFrom.map((table) => `${folder}${table}`));
  }
  return views;
}

/** A table whose rows a view shows under better names is not used beside it: each sensor would count as two. */
function withoutViewed(samples: readonly ExportSample[], views: ReadonlyMap<string, readonly string[]>, problems: ProblemParts[]): ExportSample[] {
  return samples.filter(({ name }) => {
    const view = samples.find((other) => views.get(other.name)?.includes(name) === true);
    if (view === undefined) return true;
    problems.push({ code: "site-shape", what: "The table is left out, as a view of the database shows its rows", file: name, found: `the view ${view.name}`, mend: "if the table is the better of the two, draft from it alone" });
    return false;
  });
}

/** A folder stands for all files in it and below. */
async function withFolders(names: readonly string[], folder: string): Promise<string[]> {
  const isFolder = (name: string): Promise<boolean> => stat(resolve(folder, name)).then((found) => found.isDirectory(), () => false);
  return Promise.all(names.map(async (name) => ((await isFolder(name)) ? `${name.replace(/\/+$/, "")}/**/*` : name)));
}

/** A sample of up to `bound` characters. Throws `InputError` if the file cannot be read or has nothing to draft from. */
async function sampleExport(file: InputFile, bound: number): Promise<ExportSample> {
  if (file.part?.holder === "zip") {
    const { problemOfMember } = await import("./zip-archive.js");
    const problem = problemOfMember(file);
    if (problem !== null) throw new InputError([problem]);
  }
  const traits = await traitsOf(file);
  const { text } = traits;
  const request: RowRequest = { delimiter: text?.delimiter.delimiter ?? ",", encoding: text?.encoding.encoding ?? null, columns: null };
  return exportSample(file, traits, await sampledRows({ file, request, bound }));
}

/**
 * A sample from rows that were read. Throws `InputError` if there is nothing to draft from in them. Public so that the
 * tests of drafts can make samples from texts, hundreds of them, without files.
 */
export function exportSample({ name, bytes }: Pick<InputFile, "name" | "bytes">, traits: ExportTraits, sampled: SampledRows): ExportSample {
  const problem = problemOfName(name) ?? (traits.hasTracks ? problemOfTracks(name, sampled) : traits.text === null ? problemOfColumns(name, sampled, nouns[traits.rowsAre]) : problemOfRows(name, sampled));
  if (problem !== null) throw new InputError([problem]);
  const { header, rows, whole, misfits, badRows, cutOff } = sampled;
  return { name, bytes, header, rows, whole, oddRows: [...misfits.values()].reduce((sum, count) => sum + count, badRows), cutOff, traits };
}

async function traitsOf(file: InputFile): Promise<ExportTraits> {
  const traits: ExportTraits = { text: null, rowsAre: "rows", hasLines: true, hasTracks: false, timestamps: new Map() };
  switch (exportForm(file)) {
    case "text":
      return { ...traits, text: lookAtText(file.name, await headOf(file)) };
    case "sheet":
      return { ...traits, rowsAre: "rows of a sheet", hasLines: false };
    case "table":
      return { ...traits, rowsAre: "rows of a table", hasLines: false };
    case "gpx":
      return { ...traits, rowsAre: "track points of GPX", hasTracks: true };
    case "json":
      return { ...traits, rowsAre: "JSON records" };
    case "parquet": {
      const { parquetColumns } = await import("./read-parquet.js");
      const timestamps = (await parquetColumns(file)).flatMap(({ name, clock }) => (clock === null ? [] : [[name.trim(), clock] as const]));
      return { ...traits, rowsAre: "rows of Parquet", hasLines: false, timestamps: new Map(timestamps) };
    }
  }
}

/** The first bytes of a file, unpacked. */
async function headOf(file: InputFile): Promise<Buffer> {
  let head = Buffer.alloc(0);
  for await (const chunk of fileChunks(file, { onCutOff: () => undefined })) {
    head = Buffer.concat([head, chunk]);
    if (head.length >= LOOKED_AT_BYTES) break;
  }
  return head.subarray(0, LOOKED_AT_BYTES);
}

function problemOfName(file: string): ProblemParts | null {
  return hasUnprintable(file) ? { code: "site-shape", what: "The file's name holds control characters, and no site file can name it", file, mend: "rename the file" } : null;
}

function problemOfTracks(file: string, { header, rows }: SampledRows): ProblemParts | null {
  const again = "export it again, or leave it out";
  if (header.length === 0) return { code: "file-empty", what: "The file is empty", file, expected: "GPX with track points", mend: again };
  if (rows.length === 0) {
    const mend = "export tracks rather than routes or waypoints, or leave it out";
    return { code: "file-empty", what: "The GPX file has no track point", file, expected: "tracks: <trkpt> elements with lat, lon and <time>", found: "none", mend };
  }
  if (rows.some(({ cells }) => (cells[header.indexOf("time")] ?? "").trim() !== "")) return null;
  const mend = "export recorded tracks rather than planned ones, or leave it out";
  return { code: "column-missing", what: "No track point of the GPX file says its time", file, expected: "a <time> in every <trkpt>", found: `${rows.length} without a time`, mend };
}

/** What an export is called, by what its rows are called. */
const nouns: Readonly<Record<ExportTraits["rowsAre"], string>> = {
  rows: "file",
  "rows of Parquet": "Parquet file",
  "track points of GPX": "GPX file",
  "JSON records": "JSON file",
  "rows of a sheet": "sheet",
  "rows of a table": "table",
};

function problemOfColumns(file: string, { header, rows }: SampledRows, noun: string): ProblemParts | null {
  const again = "export it again, or leave it out";
  if (header.length === 0) return { code: "file-empty", what: `The ${noun} is empty`, file, expected: "records or rows of readings", found: "nothing", mend: again };
  if (header.length < 2) {
    return { code: "column-missing", what: `The ${noun} has one column only`, file, expected: "a column with time stamps and a column with readings", mend: "export both, or leave it out" };
  }
  return rows.length > 0 ? null : { code: "file-empty", what: `The ${noun} has no rows`, file, expected: "rows of readings", found: "none", mend: again };
}
