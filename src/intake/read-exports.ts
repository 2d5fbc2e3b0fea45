import { InputError, type ProblemParts } from "../ground/problem.js";
import { sourcesOf, type Site, type Source } from "../site/site.js";
import { makeCrew, type Crew } from "./crew.js";
import type { InputFile } from "./files.js";
import { findExports } from "./find-exports.js";
import { makeInTurn } from "./in-turn.js";
import { mergedReadings } from "./merge-readings.js";
import { patternHasYear } from "./pattern-stamp.js";
import type { FileOutcome, FileTask } from "./read-file.js";
import type { IntakeResult, IntakeWatch } from "./readings.js";
import { makeReadingStore } from "./reading-store.js";
import { settledLedgers } from "./repeats.js";

/** A file and the outcome of reading it. */
interface ReadFile {
  readonly task: FileTask;
  readonly outcome: FileOutcome;
}

/**
 * Reads every export of a site on all cores. The result is the same as reading them one after another, in the order of
 * sources and, within a source, of file names. Memory: two to four bytes a reading (see packed-readings.ts) and a few
 * chunks a core. Throws `InputError` with the first problem of every file that cannot be read; a single row is never a
 * problem, it is set aside. `worker` is the compiled worker, if not the one beside the crew.
 */
export async function readExports(site: Site, watch: IntakeWatch, worker?: URL): Promise<IntakeResult> {
  const problems: ProblemParts[] = [];

  // 1. Which files there are.
  const tasks: FileTask[] = [];
  for (const source of site.sources) {
    const unreadable = patternProblems(source, site.file);
    problems.push(...unreadable);
    const files = await findExports(source.files, site.folder, `source "${source.id}"`, problems);
    const signals = site.signals.filter((signal) => sourcesOf(signal).includes(source.id));
    if (unreadable.length === 0) tasks.push(...files.map((file) => ({ source, signals, file: mayUnpack(file, source), known: new Map(), until: Infinity })));
  }

  const crew = makeCrew(tasks.map(({ file }) => file.bytes), worker);
  try {
    // 2. Their rows, each file by itself.
    const read = await readAll(tasks, crew, watch);
    problems.push(...read.flatMap(({ outcome }) => outcome.problems));
    if (problems.length > 0) throw new InputError(problems);

    watch.onRead?.();

    // 3. Rows that repeat those of earlier files.
    const ledger = await settledLedgers(read, crew);

    // 4. The readings of every signal, from all files.
    const readings = new Map(site.signals.map(({ id }) => [id, mergedReadings(id, read.flatMap(({ outcome }) => outcome.readings.get(id) ?? []))]));
    return { readings, ledger };
  } finally {
    await crew.dismiss();
  }
}

/** Reads the files, begun in order, one for each member of the crew at a time. */
async function readAll(tasks: readonly FileTask[], crew: Crew, watch: IntakeWatch): Promise<ReadFile[]> {
  const outcomes: ReadFile[] = [];
  const inTurn = makeInTurn((row) => {
    watch.onSetAside(row);
  });
  const progressOf = makeProgressSum(tasks.map(({ file }) => file), watch);
  const keep = makeReadingStore(tasks.reduce((sum, { file }) => sum + file.bytes, 0));
  // All workers take from the same iterator.
  const waiting = tasks.entries();
  const readOn = async (): Promise<void> => {
    for (const [index, task] of waiting) {
      const outcome = await crew.read(task, {
        onSetAside: (rows, taken) => {
          inTurn.add(index, rows, taken);
        },
        onProgress: progressOf(task.file),
      });
      inTurn.close(index);
      outcomes[index] = { task, outcome: { ...outcome, readings: new Map([...outcome.readings].map(([signal, packed]) => [signal, keep(packed)])) } };
    }
  };
  await Promise.all(Array.from({ length: crew.size }, readOn));
  return outcomes;
}

/** Sums up how far each of the files has been read. */
function makeProgressSum(files: readonly InputFile[], watch: IntakeWatch): (file: InputFile) => (bytes: number, rows: number) => void {
  const totalBytes = files.reduce((sum, file) => sum + file.bytes, 0);
  let [bytesSoFar, rowsSoFar] = [0, 0];
  return ({ name }) => {
    let [bytesOfFile, rowsOfFile] = [0, 0];
    return (bytes, rows) => {
      bytesSoFar += bytes - bytesOfFile;
      rowsSoFar += rows - rowsOfFile;
      [bytesOfFile, rowsOfFile] = [bytes, rows];
      watch.onProgress?.({ file: name, bytes: bytesSoFar, totalBytes, rows: rowsSoFar });
    };
  };
}

function mayUnpack(file: InputFile, { mostUnpackedBytes }: Source): InputFile {
  return mostUnpackedBytes === undefined ? file : { ...file, mostUnpackedBytes };
}

/** A pattern without a year would be read with the year of this computer's clock. */
function patternProblems(source: Source, file: string): ProblemParts[] {
  if (typeof source.written === "string" || "counts" in source.written || patternHasYear(source.written.pattern)) return [];
  return [{ code: "site-shape", what: `The time pattern of source "${source.id}" has no year`, file, expected: "a pattern with yyyy", found: `"${source.written.pattern}"`, mend: "export the stamps with their year" }];
}
