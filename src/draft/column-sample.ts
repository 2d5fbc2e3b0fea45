import type { ProblemParts } from "../ground/problem.js";
import type { SampleRow, SampleTable, TableFormat } from "./sample-table.js";

/**
 * What was read of an export whose format has rows and columns of its own: GPX and Parquet. `rows` are the texts that an
 * audit would read, all of them when `whole`, else the first, the last and evenly spaced stretches between.
 */
export interface ColumnSample {
  /** The path as the site file is to name it: relative to the site file's folder. */
  readonly name: string;
  /** Length of the file: on disk for Parquet, unpacked for GPX. */
  readonly bytes: number;
  readonly format: Exclude<TableFormat, { readonly form: "text" }>;
  /** Column names; none when the file is empty. */
  readonly header: readonly string[];
  readonly rows: readonly SampleRow[];
  /** Places where GPX was not well-formed. */
  readonly oddRows: number;
  readonly whole: boolean;
  /** The file stops in the middle: this is what stands before. */
  readonly cutOff?: boolean;
}

const DECIMAL_COMMA = /^[+-]?\d+,\d+$/;
const DECIMAL_POINT = /^[+-]?\d+\.\d+$/;
/** As many rows as tell which sign stands before decimals. */
const LOOKED_AT = 1_000;

/** A sample with columns of its own as a table like that of a text, or what keeps it from being one. */
export function columnTable(sample: ColumnSample): SampleTable | ProblemParts {
  const { name, format, whole, rows, oddRows } = sample;
  const header = sample.header.map((one) => one.trim());
  const problem = format.form === "gpx" ? gpxProblem(sample) : parquetProblem(sample);
  if (problem !== null) return problem;
  const cells = rows.slice(0, LOOKED_AT).flatMap((row) => row.cells);
  const written = (sign: RegExp): number => cells.filter((cell) => sign.test(cell.trim())).length;
  return {
    name,
    format,
    whole,
    encoding: { encoding: "utf-8", because: "valid" },
    delimiter: { delimiter: ",", columns: header.length, fitting: 1, decimalCommas: written(DECIMAL_COMMA), decimalPoints: written(DECIMAL_POINT) },
    header,
    rows,
    oddRows,
  };
}

function gpxProblem({ name: file, header, rows }: ColumnSample): ProblemParts | null {
  if (header.length === 0) return { code: "file-empty", what: "The file is empty", file, expected: "GPX with track points", mend: "export it again, or leave it out" };
  if (rows.length === 0) return { code: "file-empty", what: "The GPX file has no track point", file, expected: "tracks: <trkpt> elements with lat, lon and <time>", found: "none", mend: "export tracks rather than routes or waypoints, or leave it out" };
  if (rows.every(({ cells }) => (cells[header.indexOf("time")] ?? "").trim() === "")) return { code: "column-missing", what: "No track point of the GPX file says its time", file, expected: "a <time> in every <trkpt>", found: `${rows.length} without a time`, mend: "export recorded tracks rather than planned ones, or leave it out" };
  return null;
}

function parquetProblem({ name: file, header, rows }: ColumnSample): ProblemParts | null {
  if (header.length < 2) return { code: "column-missing", what: "The Parquet file has one column only", file, expected: "a column with time stamps and a column with readings", mend: "export both, or leave it out" };
  return rows.length === 0 ? { code: "file-empty", what: "The Parquet file has no rows", file, expected: "rows of readings", found: "none", mend: "export it again, or leave it out" } : null;
}
