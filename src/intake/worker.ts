/** A thread that reads files, one after another, as the main thread asks. */
import { parentPort } from "node:worker_threads";
import { MOST_ROWS_WAITING, type FromWorker, type ToWorker } from "./crew-messages.js";
import { READY } from "./hand.js";
import { readFile, type FileTask } from "./read-file.js";
import type { SetAsideRow } from "./readings.js";

const port = parentPort;
if (port === null) throw new Error("this file is the beginning of a thread, not of a program");

const say = (message: FromWorker): void => {
  port.postMessage(message);
};
/** Report progress at most this often. */
const TELL_EVERY_MS = 50;
let toldAt = -Infinity;
let waiting = 0;
let goOn: (() => void) | null = null;

port.on("message", (message: ToWorker) => {
  if (message.kind === "read") void read(message.task);
  else {
    waiting -= message.rows;
    if (waiting <= MOST_ROWS_WAITING) goOn?.();
  }
});

port.postMessage(READY);

async function read(task: FileTask): Promise<void> {
  let rows: SetAsideRow[] = [];
  const flush = (): void => {
    if (rows.length === 0) return;
    waiting += rows.length;
    say({ kind: "set-aside", rows });
    rows = [];
  };
  try {
    const outcome = await readFile(task, {
      onSetAside: (row) => rows.push(row),
      async onProgress(bytes, rowsSoFar) {
        flush();
        const now = performance.now();
        if (now - toldAt >= TELL_EVERY_MS || bytes === task.file.bytes) {
          toldAt = now;
          say({ kind: "progress", bytes, rows: rowsSoFar });
        }
        if (waiting > MOST_ROWS_WAITING) await new Promise<void>((resolve) => (goOn = resolve));
        goOn = null;
      },
    });
    flush();
    // Copy, don't transfer: memory that one thread allocated and another keeps leaves holes.
    say({ kind: "done", outcome });
  } catch (error) {
    say({ kind: "failed", message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
}
