import { InputError, type ProblemParts } from "../ground/problem.js";
import type { SignalSpec, Source } from "../site/site.js";
import { signalIntakes, wantedColumns, type KnownReadings, type SignalIntake } from "./columns.js";
import { makeFileIntake } from "./file-intake.js";
import { endOf, exportForm, fileChunks, type InputFile } from "./files.js";
import type { PackedReadings } from "./packed-readings.js";
import type { LedgerRow, SetAsideRow } from "./readings.js";
import { makeRowIntake } from "./row-intake.js";
import { finishSeries } from "./series.js";

/** One file to read; plain data, so that it can be handed to another thread. */
export interface FileTask {
  readonly source: Source;
  /** Those of the source. */
  readonly signals: readonly SignalSpec[];
  readonly file: InputFile;
  /** Readings of earlier files: rows that bring nothing else are duplicates. */
  readonly known: KnownReadings;
  /** Stop behind the first row accepted after this instant; Infinity to read all. For files in time order only. */
  readonly until: number;
}

/** What came of a file; plain data. Without a ledger line the file could not be read, and `problems` say why. */
export interface FileOutcome {
  readonly ledger: LedgerRow | null;
  readonly problems: readonly ProblemParts[];
  readonly readings: ReadonlyMap<string, PackedReadings>;
}

/** Who is told while a file is read. */
export interface FileWatch {
  readonly onSetAside: (row: SetAsideRow) => void;
  /** Bytes of the file on disk and rows so far. Reading waits for it. */
  readonly onProgress: (bytes: number, rows: number) => void | Promise<void>;
}

/** Reads one file. What is wrong with it is told in the outcome; only faults of the program are thrown. */
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

/** A file holds few of a source's signals: those without a reading are left out. */
function readingsOf(intakes: readonly SignalIntake[]): Map<string, PackedReadings> {
  return new Map(intakes.map(({ signal, series }) => [signal.id, finishSeries(series)] as const).filter(([, { count }]) => count > 0));
}

async function ledgerOf(task: FileTask, intakes: readonly SignalIntake[], watch: FileWatch): Promise<LedgerRow> {
  const { source, file, until } = task;
  const form = exportForm(file.name);
  if (form === "parquet") {
    const intake = makeRowIntake(source, intakes, file.name, watch.onSetAside);
    // Loaded when first met: starting a thread would take twice as long with them.
    const { readParquet } = await import("./read-parquet.js");
    await readParquet(file, wantedColumns(source, intakes), intake, (share) => watch.onProgress(Math.round(file.bytes * share), intake.rows()));
    return intake.finish();
  }
  if (form === "gpx") {
    const intake = makeRowIntake(source, intakes, file.name, watch.onSetAside);
    const { makeGpxReader } = await import("./read-gpx.js");
    const reader = makeGpxReader(file.name, intake);
    await eachChunk(file, watch, intake, reader, Infinity);
    return intake.finish();
  }
  const intake = makeFileIntake(source, intakes, file.name, watch.onSetAside);
  return eachChunk(file, watch, intake, intake, until);
}

async function eachChunk<End>(
  file: InputFile,
  watch: FileWatch,
  intake: { readonly rows: () => number; readonly lastInstant: () => number },
  reader: { readonly push: (chunk: Buffer) => void; readonly end: (cutOff: boolean) => End },
  until: number,
): Promise<End> {
  let bytes = 0;
  let told = 0;
  let cutOff = false;
  for await (const chunk of fileChunks(file, { onBytes: (soFar) => (bytes = soFar), onCutOff: () => (cutOff = true) })) {
    // Told before the next chunk, so that the last word comes when the last row is in.
    if (told > 0) await watch.onProgress(told, intake.rows());
    reader.push(chunk);
    told = bytes;
    if (intake.lastInstant() > until) break;
  }
  const end = endOf(reader, cutOff, file.name);
  await watch.onProgress(Math.max(told, bytes), intake.rows());
  return end;
}
