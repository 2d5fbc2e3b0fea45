import type { FileOutcome, FileTask } from "./read-file.js";
import type { SetAsideRow } from "./readings.js";

/** What the main thread says to a worker: a file to read, or how many set-aside rows it has taken. */
export type ToWorker = { readonly kind: "read"; readonly task: FileTask } | { readonly kind: "taken"; readonly rows: number };

/** What a worker says. */
export type FromWorker =
  | { readonly kind: "set-aside"; readonly rows: readonly SetAsideRow[] }
  | { readonly kind: "progress"; readonly bytes: number; readonly rows: number }
  | { readonly kind: "done"; readonly outcome: FileOutcome }
  | { readonly kind: "failed"; readonly message: string };

/** A worker with more set-aside rows on their way waits until some are taken, so that memory stays bounded. */
export const MOST_ROWS_WAITING = 10_000;
