import { stringify } from "csv-stringify/sync";

/** A cell of a table at rest. */
export type Cell = string | number | boolean | null;

/**
 * CSV (RFC 4180, CRLF, UTF-8) of rows with one header. Text that a spreadsheet would run as a formula (it begins with
 * `=`, `+`, `-`, `@`, a tab or a line break) is made inert by a leading apostrophe; numbers stay numbers.
 */
export function csvText(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return csvHeader(header) + csvRows(rows);
}

/** The header line alone, for files that are written row by row. */
export function csvHeader(header: readonly string[]): string {
  return csvRows([header]);
}

/** Rows without a header, for files that are written row by row. */
export function csvRows(rows: readonly (readonly Cell[])[]): string {
  return stringify(
    rows.map((row) => [...row]),
    { record_delimiter: "windows", cast: { string: inert, boolean: (value) => (value ? "true" : "false") } },
  );
}

function inert(text: string): string {
  return /^[=+\-@\t\r\n]/.test(text) ? `'${text}` : text;
}
