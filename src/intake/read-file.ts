import { InputError, type ProblemParts } from "../ground/problem.js";
import type { SignalSpec, Source } from "../site/site.js";
import { signalIntakes, wantedColumns, type KnownReadings, type SignalIntake } from "./columns.js";
import type { InputFile } from "./files.js";
import type { PackedReadings } from "./packed-readings.js";
import type { SetAsideRow } from "./readings.js";
import { readRows } from "./read-rows.js";
import { finishIntake, makeRowIntake, sinkOf } from "./row-intake.js";
import { finishSeries } from "./series.js";
import type { LedgerRow } from "../result/ledger.js";

/** One file to read; plain data, so that it can be handed to another thread. */
export interface FileTask {
  readonly source: Source;
  /** Those of the source. */
  readonly signals: readonly SignalSpec[];
  readonly file: InputFile;
  /** Readings of earlier files: rows that hold nothing else are duplicates. */
  readonly known: KnownReadings;
  /** Stop behind the first row accepted after this instant; Infinity to read all. For files in time order only. */
  readonly until: number;
}

/** The outcome of reading a file; plain data. Without a ledger line the file could not be read; `problems` say why. */
export interface FileOutcome {
  readonly ledger: LedgerRow | null;
  readonly problems: readonly ProblemParts[];
  readonly readings: ReadonlyMap<string, PackedReadings>;
}

/** What to call while a file is read. */
export interface FileWatch {
  readonly onSetAside: (row: SetAsideRow) => void;
  /** Bytes of the file on disk and rows so far. Reading waits for it. */
  readonly onProgress: (bytes: number, rows: number) => void | Promise<void>;
}

/** Reads one file. Its problems are in the outcome; only faults of the program are thrown. */
export async function readFile(task: FileTask, watch: FileWatch): Promise<FileOutcome> {
  const intakes = signalIntakes(task.source, task.signals, task.known);
  try {
    const ledger = await ledgerOf(task, intakes, watch);
    return { ledger, problems: [], readings: readingsOf(intakes) };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { ledger: null, problems: error.problems, readings: new Map() };
  }
}

/** Leaves out signals without a reading: a file holds only a few of a source's signals. */
function readingsOf(intakes: readonly SignalIntake[]): Map<string, PackedReadings> {
  return new Map(intakes.map(({ signal, series }) => [signal.id, finishSeries(series)] as const).filter(([, { count }]) => count > 0));
}

/** The columns by all of their names: only the file tells which of them it has. */
function withOtherNames(columns: readonly string[], { otherNames }: Source): string[] {
  return columns.flatMap((column) => [column, ...(otherNames?.get(column) ?? [])]);
}

async function ledgerOf({ source, file, until }: FileTask, intakes: readonly SignalIntake[], watch: FileWatch): Promise<LedgerRow> {
  const intake = makeRowIntake(source, intakes, file.name, watch.onSetAside);
  const request = { delimiter: source.delimiter, encoding: source.encoding, columns: withOtherNames(wantedColumns(source, intakes), source) };
  await readRows(file, request, sinkOf(intake), async (bytes) => {
    await watch.onProgress(bytes, intake.rowsRead);
    return intake.lastInstant <= until;
  });
  return finishIntake(intake);
}
