import { InputError, type ProblemParts } from "../ground/problem.js";
import { sniffDelimiter, type DelimiterLook } from "./delimiter.js";
import { HEAD_BYTES, makeTranscoder, sniffEncoding, type EncodingLook } from "./encoding.js";
import { lastLineEnd } from "./lines.js";
import { makeTextReader } from "./read-text.js";
import type { SampledRows } from "./row-sample.js";
import { isDate, namingCommand, wordsCommand } from "./naming-command.js";
import { problemOfFormat } from "./what-it-is.js";

/** How the text of an export is written, as its beginning shows. */
export interface TextLook {
  readonly encoding: EncodingLook;
  readonly delimiter: DelimiterLook;
}

/** The beginning of a file decides how it is written. */
export const LOOKED_AT_BYTES = 65_536;
/** No title above the column names has more lines (our own choice). */
const MOST_TITLE_LINES = 20;

/** Looks at the first {@link LOOKED_AT_BYTES} of a text. Throws `InputError` for what is no text with column names. */
export function lookAtText(file: string, head: Buffer): TextLook {
  const problem = emptyOrOther(file, head);
  if (problem !== null) throw new InputError([problem]);
  const encoding = sniffEncoding(head.subarray(0, HEAD_BYTES));
  const bytes = makeTranscoder(encoding.encoding).push(head);
  const text = bytes.subarray(0, lastLineEnd(bytes) || bytes.length).toString("utf8").replace(/^\ufeff/, "");
  const delimiter = sniffDelimiter(text);
  const header = headerOf(file, head, { encoding, delimiter });
  const headerProblem = problemOfHeader(file, header, text, delimiter.delimiter);
  if (headerProblem !== null) throw new InputError([headerProblem]);
  return { encoding, delimiter };
}

/** What keeps a text's rows from being drafted from; null if nothing does. */
export function problemOfRows(file: string, { header, rows, misfits, badRows }: SampledRows): ProblemParts | null {
  if (rows.length > 0) return null;
  const what = "The file has no row of data with as many cells as its header";
  const [usual] = [...misfits].sort((a, b) => b[1] - a[1]);
  if (usual === undefined || usual[0] === header.length) {
    const others = [...misfits.values()].reduce((sum, count) => sum + count, badRows);
    return { code: "file-empty", what, file, expected: "rows of readings", found: others === 0 ? "none" : `${others} other rows`, mend: "export it again, or leave it out" };
  }
  return {
    code: "header-missing",
    what,
    file,
    line: 1,
    expected: `rows of ${header.length} cells`,
    found: `${usual[1]} of ${usual[0]}`,
    mend: "delete a title above the column names; or, if numbers hold the sign that separates the columns, export it with another sign",
  };
}

function emptyOrOther(file: string, head: Buffer): ProblemParts | null {
  if (head.length === 0) return { code: "file-empty", what: "The file is empty", file, expected: "a row of column names and rows of readings", mend: "export it again, or leave it out" };
  const format = problemOfFormat(file, head);
  if (format !== null) return format;
  const start = head.subarray(0, 200).toString("latin1").trimStart();
  const isParquet = start.startsWith("PAR1");
  if (!isParquet && !/^(?:ï»¿)?<(?:\?xml|gpx)/i.test(start)) return null;
  return {
    code: "file-binary",
    what: "The file is not what its name says",
    file,
    expected: "CSV as text (Parquet and GPX are read from files whose names end in .parquet, .gpx or .gpx.gz)",
    found: isParquet ? "Parquet" : "XML",
    mend: "give it the ending of what it is, or draft from the other exports",
  };
}

/** The first row, read as an audit would read it. */
function headerOf(file: string, head: Buffer, { encoding, delimiter }: TextLook): readonly string[] | null {
  let header: readonly string[] | null = null;
  const nothing = (): void => undefined;
  const reader = makeTextReader(file, { delimiter: delimiter.delimiter, encoding: encoding.encoding }, { row: (cells) => (header ??= cells), badRow: nothing, cutOff: nothing });
  reader.push(head);
  reader.end(false);
  return header;
}

function problemOfHeader(file: string, cells: readonly string[] | null, text: string, delimiter: string): ProblemParts | null {
  const at = { code: "header-missing", file, line: 1, expected: "a first row with column names" } as const;
  if (cells === null) return { ...at, what: "The file has no readable header row", mend: "look at the first line of the file" };
  const header = cells.map((name) => name.trim());
  const titled = linesBefore(text, header);
  if (titled !== null) return { ...at, what: "The first line does not name the columns", ...titled };
  if (header.length < 2) {
    return {
      ...at,
      code: "column-missing",
      what: "The file has one column only",
      expected: "a column with time stamps and a column with readings, separated by a comma, semicolon, tab or |",
      mend: orCommand("export it as CSV with column names", wordsCommand(file, text)),
    };
  }
  if (!header.some(isDatum)) return null;
  return { ...at, what: "The file has no header row", found: "a row of data", mend: orCommand("export with column names, or add a first line with them", namingCommand(file, header, delimiter)) };
}

function orCommand(mend: string, command: string | null): string {
  return command === null ? mend : `${mend}; or ${command}`;
}

/** Lines above the column names that are no rows: a title, or a line that only says which sign separates the columns. */
function linesBefore(text: string, header: readonly string[]): { readonly found: string; readonly mend: string } | null {
  if (/^sep=/i.test(header[0] ?? "")) return { found: "a line that says which sign separates them", mend: "delete that line; a draft sees the sign by itself" };
  if (header.length > 1) return null;
  const lines = text.split(/\r\n|\n|\r/).slice(0, MOST_TITLE_LINES);
  const named = lines.findIndex((line, at) => {
    const next = lines[at + 1];
    if (at === 0 || next === undefined || line.trim() === "") return false;
    const { columns, fitting } = sniffDelimiter(`${line}\n${next}\n`);
    return columns > 1 && fitting === 1;
  });
  if (named < 0) return null;
  const { columns } = sniffDelimiter(`${lines.slice(named, named + 2).join("\n")}\n`);
  return { found: `one cell, while line ${named + 1} has ${columns}`, mend: `delete the lines above line ${named + 1}` };
}

/** A number with a fraction, a long number, or a date: no column is called so. */
function isDatum(cell: string): boolean {
  return /^[+-]?\d+[.,]\d+$/.test(cell) || /^\d{4,}$/.test(cell) || isDate(cell);
}
