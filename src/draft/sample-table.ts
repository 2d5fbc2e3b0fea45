import { sniffDelimiter, type DelimiterLook } from "../intake/delimiter.js";
import { makeTranscoder, sniffEncoding, HEAD_BYTES, type EncodingLook } from "../intake/encoding.js";
import { firstLineEnd, lastLineEnd } from "../intake/lines.js";
import { makeRowReader } from "../intake/rows.js";
import type { ProblemParts } from "../ground/problem.js";
import { hasUnprintable } from "../site/yaml-text.js";
import type { Sample } from "./sample.js";

/** As much of a file as decides its separator. */
const SNIFFED_BYTES = 65_536;

/** A title is not longer than this (our own choice). */
const MOST_TITLE_LINES = 20;

/** A row of a sample. `line` is 1-based; null in a piece whose first line number is not known. */
export interface SampleRow {
  readonly cells: readonly string[];
  readonly line: number | null;
  /** Rows of one stretch follow one another in the file without a gap. */
  readonly stretch: number;
}

/** What a table was read from. `timestamps`: the Parquet columns that hold timestamps, and whose clock these show. */
export type TableFormat = { readonly form: "text" } | { readonly form: "gpx" } | { readonly form: "parquet"; readonly timestamps: ReadonlyMap<string, string> };

/** A sample taken apart into rows. */
export interface SampleTable {
  readonly name: string;
  readonly format: TableFormat;
  readonly whole: boolean;
  readonly encoding: EncodingLook;
  readonly delimiter: DelimiterLook;
  /** Column names, spaces around them gone. */
  readonly header: readonly string[];
  readonly rows: readonly SampleRow[];
  /** Rows with another number of cells, repeated headers, and rows that could not be taken apart. */
  readonly oddRows: number;
}

/** Takes a sample apart, or says what keeps it from being read. */
export function sampleTable(sample: Sample): SampleTable | ProblemParts {
  const file = sample.name;
  if (hasUnprintable(file)) return { code: "site-shape", what: "The file's name holds control characters, and no site file can name it", file, mend: "rename the file" };
  const head = sample.pieces[0] ?? new Uint8Array(0);
  if (head.length === 0) return { code: "file-empty", what: "The file is empty", file, expected: "a row of column names and rows of readings", mend: "export it again, or leave it out" };
  const start = Buffer.from(head.subarray(0, 200)).toString("latin1").trimStart();
  if (start.startsWith("PAR1") || /^(?:ï»¿)?<(?:\?xml|gpx)/i.test(start)) return { code: "file-binary", what: "The file is not what its name says", file, expected: "CSV as text (Parquet and GPX are read from files whose names end in .parquet, .gpx or .gpx.gz)", found: start.startsWith("PAR1") ? "Parquet" : "XML", mend: "give it the ending of what it is, or draft from the other exports" };
  const encoding = sniffEncoding(head.subarray(0, HEAD_BYTES));
  if (!encoding.encoding.startsWith("utf-16") && head.subarray(0, HEAD_BYTES).subarray(0, firstLineEnd(head.subarray(0, HEAD_BYTES), true) || HEAD_BYTES).includes(0)) return { code: "file-binary", what: "The file is not plain text", file, expected: "CSV as text", found: "zero bytes", mend: "export it as CSV (a packed file must be gzip, with a name that ends in .gz)" };
  const pieces = sample.pieces.map((piece, i) => wholeLines(utf8(piece, encoding), i > 0, i < sample.pieces.length - 1));
  const sniffed = pieces[0]!.subarray(0, SNIFFED_BYTES);
  const looked = sniffDelimiter(Buffer.from(sniffed.subarray(0, lastLineEnd(sniffed) || sniffed.length)).toString("utf8"));
  const { delimiter } = looked;
  const headerCells = rowsOf(pieces[0]!.subarray(0, SNIFFED_BYTES), delimiter, 1)[0]?.cells;
  if (headerCells === undefined) return { code: "header-missing", what: "The file has no readable header row", file, line: 1, expected: "a first row with column names", mend: "look at the first line of the file" };
  const header = headerCells.map((name) => name.trim());
  const titled = linesBefore(pieces[0]!, header);
  if (titled !== null) return { code: "header-missing", what: "The first line does not name the columns", file, line: 1, expected: "a first row with column names", ...titled };
  if (header.length < 2) return { code: "column-missing", what: "The file has one column only", file, line: 1, expected: "a column with time stamps and a column with readings, separated by a comma, semicolon, tab or |", mend: "export it as CSV with column names" };
  if (header.some(isDatum)) return { code: "header-missing", what: "The file has no header row", file, line: 1, expected: "a first row with column names", found: "a row of data", mend: "export with column names, or add a first line with them" };
  const rows: SampleRow[] = [];
  let oddRows = 0;
  const widths = new Map<number, number>();
  pieces.forEach((piece, i) => {
    for (const { cells, line } of rowsOf(piece, delimiter, Number.POSITIVE_INFINITY, () => oddRows++)) {
      if (cells === headerCells || (i === 0 && line === 1)) continue;
      widths.set(cells.length, (widths.get(cells.length) ?? 0) + 1);
      if (cells.length !== header.length || cells.every((cell, at) => cell.trim() === header[at])) oddRows++;
      else rows.push({ cells, line: i === 0 ? line : null, stretch: i });
    }
  });
  if (rows.length === 0) {
    const [usual] = [...widths].sort((a, b) => b[1] - a[1]);
    const what = "The file has no row of data with as many cells as its header";
    if (usual === undefined || usual[0] === header.length) return { code: "file-empty", what, file, expected: "rows of readings", found: oddRows === 0 ? "none" : `${oddRows} other rows`, mend: "export it again, or leave it out" };
    return { code: "header-missing", what, file, line: 1, expected: `rows of ${header.length} cells`, found: `${usual[1]} of ${usual[0]}`, mend: "delete a title above the column names; or, if numbers hold the sign that separates the columns, export it with another sign" };
  }
  return { name: file, format: { form: "text" }, whole: sample.whole, encoding, delimiter: looked, header, rows, oddRows };
}

/** Lines above the column names, which are no rows: a title, or a line that only says which sign separates the columns. */
function linesBefore(bytes: Uint8Array, header: readonly string[]): { readonly found: string; readonly mend: string } | null {
  if (/^sep=/i.test(header[0] ?? "")) return { found: "a line that says which sign separates them", mend: "delete that line; a draft sees the sign by itself" };
  if (header.length > 1) return null;
  const lines = Buffer.from(bytes.subarray(0, SNIFFED_BYTES)).toString("utf8").split(/\r\n|\n|\r/).slice(0, MOST_TITLE_LINES);
  for (let at = 1; at + 1 < lines.length; at++) {
    if (lines[at]!.trim() === "") continue;
    const { columns, fitting } = sniffDelimiter(`${lines[at]!}\n${lines[at + 1]!}\n`);
    if (columns > 1 && fitting === 1) return { found: `one cell, while line ${at + 1} has ${columns}`, mend: `delete the lines above line ${at + 1}` };
  }
  return null;
}

/** A number with a fraction, a long number, or a date: no column is called so. */
export function isDatum(cell: string): boolean {
  return /^[+-]?\d+[.,]\d+$/.test(cell) || /^\d{4,}$/.test(cell) || /^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}(?:\D|$)/.test(cell);
}

/** A piece as UTF-8, without a byte order mark. */
function utf8(piece: Uint8Array, { encoding }: EncodingLook): Uint8Array {
  const transcoder = makeTranscoder(encoding);
  const bytes = Buffer.concat([transcoder.push(piece), transcoder.end()]);
  return bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? bytes.subarray(3) : bytes;
}

function rowsOf(bytes: Uint8Array, delimiter: string, most: number, onBad: () => void = () => undefined): { readonly cells: readonly string[]; readonly line: number }[] {
  const rows: { readonly cells: readonly string[]; readonly line: number }[] = [];
  const reader = makeRowReader(delimiter, { onRow: (cells, line) => {
    if (rows.length < most) rows.push({ cells, line });
  }, onBadRow: onBad });
  reader.push(bytes);
  reader.end();
  return rows;
}

function wholeLines(bytes: Uint8Array, cutAtStart: boolean, cutAtEnd: boolean): Uint8Array {
  const from = cutAtStart ? firstLineEnd(bytes, false) : 0;
  const to = cutAtEnd ? lastLineEnd(bytes) : bytes.length;
  return bytes.subarray(from, Math.max(from, to));
}
