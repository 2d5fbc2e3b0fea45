import type { Crew, CrewWatch } from "./crew.js";
import type { PackedReadings } from "./packed-readings.js";
import type { FileOutcome, FileTask } from "./read-file.js";
import { setAsideReasons } from "./readings.js";
import type { LedgerRow } from "../result/ledger.js";
import { InputError } from "../ground/problem.js";

/** A file, read by itself. */
interface ReadFile {
  readonly task: FileTask;
  readonly outcome: FileOutcome;
}

const noWatch: CrewWatch = { onSetAside: (_, taken) => { taken(); }, onProgress: () => undefined };

/**
 * The ledger, where files may overlap: rows that hold only readings of earlier files of their source are duplicates.
 * Each file was read by itself, so a file that shares some time of a signal with an earlier one is read again, now
 * knowing the earlier one's readings: a file in time order up to where the overlap ends, any other to its end.
 */
export async function settledLedgers(read: readonly ReadFile[], crew: Crew): Promise<LedgerRow[]> {
  const ledgers: LedgerRow[] = [];
  // All workers take from the same iterator.
  const waiting = read.entries();
  const goOn = async (): Promise<void> => {
    for (const [index, one] of waiting) ledgers[index] = await settledLedger(one, read.slice(0, index), crew);
  };
  await Promise.all(Array.from({ length: crew.size }, goOn));
  return ledgers;
}

async function settledLedger({ task, outcome }: ReadFile, earlier: readonly ReadFile[], crew: Crew): Promise<LedgerRow> {
  const alone = ledgerOf(outcome);
  const sameSource = earlier.filter((other) => other.task.source.id === task.source.id);
  const known = new Map<string, readonly PackedReadings[]>();
  for (const [signal, own] of outcome.readings) {
    const overlapping = sameSource.flatMap((other) => other.outcome.readings.get(signal) ?? []).filter((other) => other.first <= own.last && own.first <= other.last);
    if (overlapping.length > 0) known.set(signal, overlapping);
  }
  if (known.size === 0) return alone;
  const last = Math.max(...[...known.values()].flat().map((packed) => packed.last));
  const isWhole = alone.outOfOrderRows > 0 || last >= (alone.last ?? -Infinity);
  const until = isWhole ? Infinity : last;
  const informed = ledgerOf(await crew.read({ ...task, known, until }, noWatch));
  if (isWhole) return informed;
  const uninformed = ledgerOf(await crew.read({ ...task, until }, noWatch));
  return corrected(alone, uninformed, informed);
}

/** A file may have become unreadable since it was read the first time. */
function ledgerOf({ ledger, problems }: FileOutcome): LedgerRow {
  if (ledger === null) throw new InputError(problems);
  return ledger;
}

/** The whole file's ledger line, with the counts of its beginning replaced by those that know the earlier files. */
function corrected(whole: LedgerRow, uninformed: LedgerRow, informed: LedgerRow): LedgerRow {
  const count = (of: (row: LedgerRow) => number): number => of(whole) - of(uninformed) + of(informed);
  const reasonCount = (row: LedgerRow, reason: string): number => row.reasons.find((one) => one.reason === reason)?.count ?? 0;
  return {
    ...whole,
    accepted: count((row) => row.accepted),
    duplicate: count((row) => row.duplicate),
    setAside: count((row) => row.setAside),
    reasons: setAsideReasons.map((reason) => ({ reason, count: count((row) => reasonCount(row, reason)) })).filter((one) => one.count > 0),
    missingCells: count((row) => row.missingCells),
    unreadableCells: count((row) => row.unreadableCells),
    repeatedHourRows: count((row) => row.repeatedHourRows),
    shiftedRows: count((row) => row.shiftedRows),
    outOfOrderRows: count((row) => row.outOfOrderRows),
    first: informed.first,
  };
}
