import type { LedgerRow } from "../result/ledger.js";

/** More rows are not listed one by one in set-aside.csv. Our own choice. */
export const MOST_ROWS_LISTED = 500_000;

/** What a reader must know of the rows: those told apart, moved, set aside, unreadable, and files that were cut off. */
export function ledgerNotes(ledger: readonly LedgerRow[]): string[] {
  const total = (count: (row: LedgerRow) => number): number => ledger.reduce((sum, row) => sum + count(row), 0);
  const [repeated, shifted, setAside, read] = [total((row) => row.repeatedHourRows), total((row) => row.shiftedRows), total((row) => row.setAside), total((row) => row.read)];
  const unreadable = total((row) => row.unreadableCells);
  const listed = setAside + unreadable <= MOST_ROWS_LISTED ? "set-aside.csv lists each with its reason" : `set-aside.csv lists the first ${MOST_ROWS_LISTED.toLocaleString("en-GB")} of rows and cells`;
  const notes = [];
  if (repeated > 0) notes.push(`${repeated} rows have a local time in the hour that a clock change repeats; they were told apart by their order in the file.`);
  if (shifted > 0) notes.push(`${shifted} rows have a local time that a clock change skipped; they were moved forward by the length of the gap, as the site file asks.`);
  if (setAside > 0) notes.push(`${setAside.toLocaleString("en-GB")} of ${read.toLocaleString("en-GB")} rows were set aside and not used; ${listed}.`);
  if (unreadable > 0) notes.push(`${unreadable === 1 ? "One cell" : `${unreadable.toLocaleString("en-GB")} cells`} could not be read, in rows that were otherwise used; ${listed}.`);
  for (const row of ledger.filter((one) => one.cutOff)) {
    notes.push(`${row.file} stops in the middle: its rows up to there were used, what came after is missing. A sensor in it that reports only changes keeps its last state from there on, which may be wrong.`);
  }
  return notes;
}
