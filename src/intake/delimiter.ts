import { parse } from "csv-parse/sync";

/** Separators that exports are written with. */
export const delimiters = [",", ";", "\t", "|"] as const;

/** What separates the columns of an export, as its first rows show. */
export interface DelimiterLook {
  readonly delimiter: (typeof delimiters)[number];
  /** Columns of the header under that delimiter; 1 means that none of them separates anything. */
  readonly columns: number;
  /** Share (0..1) of the rows that have as many columns as the header. */
  readonly fitting: number;
}

/**
 * Finds the delimiter from the first rows of an export: the one under which the rows have as many columns as the header,
 * and as many columns as possible. `text` should end with a whole line. Never throws; plain text gives one column.
 */
export function sniffDelimiter(text: string): DelimiterLook {
  const looks = delimiters.map((delimiter) => lookWith(delimiter, text));
  return looks.reduce((best, look) => (worth(look) > worth(best) ? look : best));
}

function worth({ columns, fitting }: DelimiterLook): number {
  return columns === 1 ? 0 : fitting * 1000 + columns;
}

function lookWith(delimiter: (typeof delimiters)[number], text: string): DelimiterLook {
  const rows = rowsOf(delimiter, text).filter((cells) => cells.length > 1 || cells[0] !== "");
  const columns = rows[0]?.length ?? 1;
  return { delimiter, columns, fitting: rows.length === 0 ? 0 : rows.filter((row) => row.length === columns).length / rows.length };
}

function rowsOf(delimiter: string, text: string): string[][] {
  try {
    return parse(text, { delimiter, relax_quotes: true, relax_column_count: true, record_delimiter: ["\r\n", "\n", "\r"], skip_records_with_error: true });
  } catch {
    return [];
  }
}
