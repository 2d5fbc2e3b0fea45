import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import type { FromWorker, ToWorker } from "./crew-messages.js";
import { readFile, type FileOutcome, type FileTask, type FileWatch } from "./read-file.js";
import type { SetAsideRow } from "./readings.js";

/** Starting a thread takes as long as reading about this much. Measured; our own choice. */
const WORTH_A_THREAD_BYTES = 4_000_000;
/** More threads than this wait for the disk rather than the processor, and each takes some fifty megabytes. Our own choice. */
const MOST_THREADS = 8;
/**
 * Room for what a thread makes and forgets at once, which is nearly all it makes. With node's own choice, four times as much, two
 * threads took some fifty megabytes more, and not a second less. Measured.
 */
const YOUNG_MEGABYTES = 12;

/** Reads files, several at once if it has threads. */
export interface Crew {
  /** How many files it reads at a time. */
  readonly size: number;
  /** `onSetAside` may be called late; call `taken` for all rows, so that the thread goes on. */
  readonly read: (task: FileTask, watch: CrewWatch) => Promise<FileOutcome>;
  readonly dismiss: () => Promise<void>;
}

/** What to call while a file is read. */
export interface CrewWatch {
  readonly onSetAside: (rows: readonly SetAsideRow[], taken: () => void) => void;
  readonly onProgress: FileWatch["onProgress"];
}

/**
 * A crew for files of these sizes: a thread for each core, none for little work or a single file. `script`
 * is the compiled worker; by default the one beside this file. Where there is none (source run as it is), no threads.
 */
export function makeCrew(fileBytes: readonly number[], script: URL = new URL("./worker.js", import.meta.url)): Crew {
  const total = fileBytes.reduce((sum, bytes) => sum + bytes, 0);
  const size = Math.min(MOST_THREADS, availableParallelism(), fileBytes.length, Math.floor(total / WORTH_A_THREAD_BYTES));
  return size < 2 || !existsSync(fileURLToPath(script)) ? crewOfOne() : crewOfThreads(size, script);
}

function crewOfOne(): Crew {
  return {
    size: 1,
    read: (task, watch) => readFile(task, { onSetAside: (row) => { watch.onSetAside([row], () => undefined); }, onProgress: watch.onProgress }),
    dismiss: () => Promise.resolve(),
  };
}

function crewOfThreads(size: number, script: URL): Crew {
  const idle = Array.from({ length: size }, () => new Worker(script, { resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MEGABYTES } }));
  const all = [...idle];
  return {
    size,
    async read(task, watch) {
      const worker = idle.pop();
      if (worker === undefined) throw new Error("every thread of the crew is busy");
      try {
        return await readBy(worker, task, watch);
      } finally {
        idle.push(worker);
      }
    },
    async dismiss() {
      await Promise.all(all.map((worker) => worker.terminate()));
    },
  };
}

function readBy(worker: Worker, task: FileTask, watch: CrewWatch): Promise<FileOutcome> {
  const say = (message: ToWorker): void => {
    worker.postMessage(message);
  };
  return new Promise((resolve, reject) => {
    const onMessage = (message: FromWorker): void => {
      switch (message.kind) {
        case "set-aside":
          watch.onSetAside(message.rows, () => {
            say({ kind: "taken", rows: message.rows.length });
          });
          break;
        case "progress":
          void watch.onProgress(message.bytes, message.rows);
          break;
        case "done":
          leave();
          resolve(message.outcome);
          break;
        case "failed":
          leave();
          reject(new Error(`reading ${task.file.name} failed: ${message.message}`));
      }
    };
    const onExit = (code: number): void => {
      leave();
      reject(new Error(`the thread that read ${task.file.name} ended with ${code}`));
    };
    const onError = (error: Error): void => {
      leave();
      // The thread does not know: it may have run out of memory.
      reject(Object.assign(error, { path: task.file.name }));
    };
    const leave = (): void => {
      worker.off("message", onMessage).off("error", onError).off("exit", onExit);
    };
    worker.on("message", onMessage).on("error", onError).on("exit", onExit);
    say({ kind: "read", task });
  });
}
