import { stringify } from "csv-stringify/sync";
import { guarded } from "./formula-guard.js";

/** A cell of a table at rest. */
export type Cell = string | number | boolean | null;

/** How CSV is laid out where it joins a file of another's, or stands for one: usually commas and CR LF. */
export interface CsvLayout {
  readonly delimiter?: string;
  readonly lineEnd?: string;
}

/**
 * All CSV we write: RFC 4180, CRLF, UTF-8, one header. Text that a spreadsheet would run as a formula is made inert ({@link guarded}); numbers
 * stay numbers. Our own reader gives back the same cells, of rows of two cells or more and at most 64 kB.
 */
export function csvText(header: readonly string[], rows: readonly (readonly Cell[])[], layout: CsvLayout = {}): string {
  return csvHeader(header, layout) + csvRows(rows, layout);
}

/** The header line alone, for files that are written row by row. */
export function csvHeader(header: readonly string[], layout: CsvLayout = {}): string {
  return csvRows([header], layout);
}

/** Rows without a header, for files that are written row by row. */
export function csvRows(rows: readonly (readonly Cell[])[], { delimiter = ",", lineEnd = "\r\n" }: CsvLayout = {}): string {
  return stringify(
    rows.map((row) => [...row]),
    {
      delimiter,
      record_delimiter: lineEnd,
      // Readers end a row at any line break, and drop a byte order mark that begins a file.
      quoted_match: /[\r\n\ufeff]/,
      cast: { string: (text, { index }) => guarded(text, index === 0), boolean: (value) => (value ? "true" : "false") },
    },
  );
}
