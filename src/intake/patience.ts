import type { ProblemParts } from "../ground/problem.js";
import type { FileOutcome, FileTask } from "./read-file.js";
import { exportForm } from "./read-rows.js";

/** So long whoever reads may give no sign of life over such a file, and longer by the second figure a megabyte: one stretch of it is read at a time. Our own choice. */
const SILENT_MS = 3_000;
const SILENT_MS_A_MEGABYTE = 1_000;
const MEGABYTE = 1_000_000;

/**
 * How long a thread may be silent over a file, milliseconds; null: for ever. Only Parquet, as a byte changed on the disk can send its decoder round
 * without end, and databases, as a view may be worked out without end: every other format is read as its bytes come.
 */
export function patienceFor({ file }: Pick<FileTask, "file">): number | null {
  return ["parquet", "table"].includes(exportForm(file)) ? SILENT_MS + (file.bytes / MEGABYTE) * SILENT_MS_A_MEGABYTE : null;
}

/** What is found where whoever read a file fell over it. */
export const FALLEN = "data that unpack to more than the memory holds";

/** What is wrong with a file whose reading was ended. */
export function givenUpProblem({ file }: Pick<FileTask, "file">, found: string): ProblemParts {
  if (exportForm(file) === "table") return { code: "file-binary", what: "The table or view cannot be read", file: file.name, expected: "one that gives its rows in good time", found, mend: "make the view simpler, export its rows as CSV, or leave it out" };
  return { code: "file-binary", what: "The Parquet file cannot be read", file: file.name, expected: "a whole Parquet file", found, mend: "copy or export it again, or leave it out" };
}

/** The outcome of a file whose reading was ended. Nothing of it is used: a sensor that reports only changes would seem to have kept its last state. */
export function givenUp(task: Pick<FileTask, "file">, found: string): FileOutcome {
  return { ledger: null, problems: [givenUpProblem(task, found)], readings: new Map() };
}
