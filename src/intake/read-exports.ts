import { InputError, type ProblemParts } from "../problem.js";
import type { Site, Source } from "../site/site.js";
import { signalIntakes, type SignalIntake } from "./columns.js";
import { makeFileIntake } from "./file-intake.js";
import { fileChunks, findFiles, type InputFile } from "./files.js";
import { patternHasYear } from "./pattern-stamp.js";
import type { IntakeResult, LedgerRow, Readings, SetAsideRow } from "./readings.js";

/** Who is told what happens while exports are read. */
export interface IntakeWatch {
  /** Every row set aside, as it is met; and every unreadable cell of a row that was otherwise used (the detail says so). */
  onSetAside(row: SetAsideRow): void;
  /** After every chunk: `bytes` and `rows` so far over all files, of `totalBytes` on disk. */
  onProgress?(progress: { readonly file: string; readonly bytes: number; readonly totalBytes: number; readonly rows: number }): void;
}

/** What is read of one source. */
interface SourceFiles {
  readonly source: Source;
  readonly intakes: readonly SignalIntake[];
  readonly files: readonly InputFile[];
}

/**
 * Reads every export of a site, in the order of sources and, within a source, of file names. Memory is bounded by the
 * readings (16 bytes each) and a few chunks. Throws `InputError` with the problems of all files, each with the first
 * that keeps it from being read; single rows never are a problem, they are set aside.
 */
export async function readExports(site: Site, watch: IntakeWatch): Promise<IntakeResult> {
  const problems: ProblemParts[] = [];

  // 1. Which files there are.
  const sources: SourceFiles[] = [];
  for (const source of site.sources) {
    const unreadable = patternProblems(source, site.file);
    problems.push(...unreadable);
    const files = await findFiles(source.files, site.folder, `source "${source.id}"`, problems);
    sources.push({ source, intakes: signalIntakes(source, site.signals), files: unreadable.length > 0 ? [] : files });
  }
  const totalBytes = sources.flatMap(({ files }) => files).reduce((sum, file) => sum + file.bytes, 0);

  // 2. Their rows, file by file.
  const ledger: LedgerRow[] = [];
  let bytesBefore = 0;
  let rowsBefore = 0;
  for (const { source, intakes, files } of sources) {
    for (const file of files) {
      try {
        const row = await readFile(source, intakes, file, watch, { bytesBefore, totalBytes, rowsBefore });
        ledger.push(row);
        rowsBefore += row.read;
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        problems.push(...error.problems);
      }
      bytesBefore += file.bytes;
    }
  }
  if (problems.length > 0) throw new InputError(problems);

  // 3. The readings of every signal, sorted.
  const finished = new Map<string, Readings>();
  for (const { intakes } of sources) {
    for (const { signal, series } of intakes) finished.set(signal.id, series.finish());
  }
  const empty = (signal: string): Readings => ({ signal, times: new Float64Array(0), values: new Float64Array(0) });
  return { readings: new Map(site.signals.map(({ id }) => [id, finished.get(id) ?? empty(id)])), ledger };
}

async function readFile(
  source: Source,
  intakes: readonly SignalIntake[],
  file: InputFile,
  watch: IntakeWatch,
  before: { readonly bytesBefore: number; readonly totalBytes: number; readonly rowsBefore: number },
): Promise<LedgerRow> {
  const intake = makeFileIntake(source, intakes, file.name, (row) => watch.onSetAside(row));
  let bytes = 0;
  for await (const chunk of fileChunks(file, (soFar) => (bytes = soFar))) {
    intake.push(chunk);
    watch.onProgress?.({ file: file.name, bytes: before.bytesBefore + bytes, totalBytes: before.totalBytes, rows: before.rowsBefore + intake.rows() });
  }
  return intake.end();
}

/** A pattern without a year would be read with the year of this computer's clock. */
function patternProblems(source: Source, file: string): ProblemParts[] {
  if (typeof source.written === "string" || patternHasYear(source.written.pattern)) return [];
  return [{ code: "site-shape", what: `The time pattern of source "${source.id}" has no year`, file, expected: "a pattern with yyyy", found: `"${source.written.pattern}"`, mend: "export the stamps with their year" }];
}
