import { setAsideReasons, type SetAsideReason } from "./readings.js";
import type { LedgerRow } from "../result/ledger.js";

/** The counts of one file while it is read. */
export interface Tally {
  accepted: number;
  duplicate: number;
  readonly setAside: Map<SetAsideReason, number>;
  missingCells: number;
  unreadableCells: number;
  repeatedHourRows: number;
  shiftedRows: number;
  outOfOrderRows: number;
  first: number;
  last: number;
}

/** Nothing counted yet. */
export function emptyTally(): Tally {
  return { accepted: 0, duplicate: 0, setAside: new Map(), missingCells: 0, unreadableCells: 0, repeatedHourRows: 0, shiftedRows: 0, outOfOrderRows: 0, first: Infinity, last: -Infinity };
}

/**
 * The file's line of the ledger. `rowsRead` was counted separately, as rows came in: if it is not the sum of the other
 * counts, a row was lost or counted twice, and that is a fault of the program (plain `Error`).
 */
export function ledgerRow(tally: Tally, source: string, file: string, rowsRead: number, cutOff: boolean): LedgerRow {
  const reasons = setAsideReasons.flatMap((reason) => {
    const count = tally.setAside.get(reason);
    return count === undefined ? [] : [{ reason, count }];
  });
  const setAside = reasons.reduce((sum, { count }) => sum + count, 0);
  if (rowsRead !== tally.accepted + tally.duplicate + setAside) {
    throw new Error(`the ledger of ${file} does not add up: ${rowsRead} rows read, ${tally.accepted} accepted, ${tally.duplicate} duplicate, ${setAside} set aside`);
  }
  const { accepted, duplicate, missingCells, unreadableCells, repeatedHourRows, shiftedRows, outOfOrderRows } = tally;
  const [first, last] = accepted === 0 ? [null, null] : [tally.first, tally.last];
  return { source, file, read: rowsRead, accepted, duplicate, setAside, reasons, missingCells, unreadableCells, repeatedHourRows, shiftedRows, outOfOrderRows, cutOff, first, last };
}
