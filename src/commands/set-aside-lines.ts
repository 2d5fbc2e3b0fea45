import { csvHeader, csvRows } from "../ground/csv-text.js";
import { MOST_ROWS_LISTED } from "../intake/ledger-notes.js";
import type { SetAsideRow } from "../intake/readings.js";

/** The text of rows is repeated up to this much in all: small damaged exports must not fill a disk. Our own choice. */
const MOST_TEXT_CHARACTERS = 20_000_000;
const LEFT_OUT = "(text left out: this file would be too large)";

/** Takes rows that were not used, for set-aside.csv. */
export interface SetAsideLines {
  readonly row: (row: SetAsideRow) => void;
  /** Call once, after the last row: says how many were not listed. */
  readonly end: () => void;
}

/**
 * Writes set-aside.csv by `add`: all rows up to {@link MOST_ROWS_LISTED}, with their details and texts up to 20 million characters in all. What goes
 * beyond is left out, and said; the ledger of the findings counts every row. `forgetRows`: no details and texts at all.
 */
export function setAsideLines(add: (text: string) => void, forgetRows: boolean, most: { readonly rows: number; readonly characters: number } = { rows: MOST_ROWS_LISTED, characters: MOST_TEXT_CHARACTERS }): SetAsideLines {
  let [rows, characters] = [0, 0];
  add(csvHeader(["file", "line", "reason", "detail", "raw"]));
  return {
    row({ file, line, reason, detail, raw }) {
      rows++;
      if (rows > most.rows) return;
      if (!forgetRows) characters += detail.length + raw.length;
      const told = characters > most.characters ? ["", LEFT_OUT] : [detail, raw];
      add(csvRows([[file, line, reason, ...(forgetRows ? ["", ""] : told)]]));
    },
    end() {
      if (rows > most.rows) add(csvRows([["", null, "not listed", `${(rows - most.rows).toLocaleString("en-GB")} more; the ledger in findings.json counts all of them by file and reason`, ""]]));
    },
  };
}
