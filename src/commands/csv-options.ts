import { unguarded } from "../ground/formula-guard.js";

/** Reads CSV as spreadsheets and editors leave it: any line end, empty lines, quotes in odd places, rows of unlike length. Guards against formulas are taken off. */
export const asPeopleSaveIt = {
  bom: true,
  relax_quotes: true,
  relax_column_count: true,
  skip_empty_lines: true,
  record_delimiter: ["\r\n", "\n", "\r"],
  cast: (cell: string) => unguarded(cell),
};
