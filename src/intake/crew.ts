import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { MOST_ROWS_WAITING, type FromWorker, type ToWorker } from "./crew-messages.js";
import { givenUp, patienceFor } from "./patience.js";
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

/** How often it is looked whether a thread still gives signs of life. */
const LOOK_EVERY_MS = 250;

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
 * A file that its reader never comes back from (see {@link patienceFor}) becomes a problem, and another thread takes the place of its own.
 */
export function makeCrew(fileBytes: readonly number[], script: URL = new URL("./worker.js", import.meta.url), { mustStop = false }: CrewNeeds = {}): Crew {
  const total = fileBytes.reduce((sum, bytes) => sum + bytes, 0);
  const worth = Math.min(MOST_THREADS, availableParallelism(), fileBytes.length, Math.floor(total / WORTH_A_THREAD_BYTES));
  const size = mustStop ? Math.max(1, worth) : worth;
  return size < (mustStop ? 1 : 2) || !existsSync(fileURLToPath(script)) ? crewOfOne() : crewOfThreads(size, script);
}

/** What the files ask of a crew. */
export interface CrewNeeds {
  /** Some of them may have to be stopped: that takes a thread, even for little work. */
  readonly mustStop?: boolean;
}

function crewOfOne(): Crew {
  return {
    size: 1,
    read: (task, watch) => readFile(task, { onSetAside: (row) => { watch.onSetAside([row], () => undefined); }, onProgress: watch.onProgress }),
    dismiss: () => Promise.resolve(),
  };
}

function crewOfThreads(size: number, script: URL): Crew {
  const started = (): Worker => new Worker(script, { resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MEGABYTES } });
  const idle = Array.from({ length: size }, started);
  const all = [...idle];
  return {
    size,
    async read(task, watch) {
      const worker = idle.pop();
      if (worker === undefined) throw new Error("every thread of the crew is busy");
      let next = worker;
      try {
        const { outcome, isOver } = await readBy(worker, task, watch);
        if (isOver) {
          next = started();
          all.push(next);
        }
        return outcome;
      } finally {
        idle.push(next);
      }
    },
    async dismiss() {
      await Promise.all(all.map((worker) => worker.terminate()));
    },
  };
}

/** `isOver`: the thread was ended over the file, and reads no other. */
interface ReadBy {
  readonly outcome: FileOutcome;
  readonly isOver: boolean;
}

function readBy(worker: Worker, task: FileTask, watch: CrewWatch): Promise<ReadBy> {
  const patienceMs = patienceFor(task);
  let waiting = 0;
  const say = (message: ToWorker): void => {
    worker.postMessage(message);
  };
  return new Promise((resolve, reject) => {
    let lastSign = performance.now();
    const giveUp = (why: string): void => {
      leave();
      void worker.terminate();
      resolve({ outcome: givenUp(task, why), isOver: true });
    };
    // The thread waits itself while more of its rows are on their way than it may send.
    const timer = patienceMs === null ? undefined : setInterval(() => {
      if (waiting > MOST_ROWS_WAITING) lastSign = performance.now();
      else if (performance.now() - lastSign > patienceMs) giveUp(`nothing that came of it for ${Math.round(patienceMs / 1000)} s`);
    }, LOOK_EVERY_MS);
    const onMessage = (message: FromWorker): void => {
      lastSign = performance.now();
      switch (message.kind) {
        case "set-aside":
          waiting += message.rows.length;
          watch.onSetAside(message.rows, () => {
            waiting -= message.rows.length;
            say({ kind: "taken", rows: message.rows.length });
          });
          break;
        case "progress":
          void watch.onProgress(message.bytes, message.rows);
          break;
        case "done":
          leave();
          resolve({ outcome: message.outcome, isOver: false });
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
      if (patienceMs !== null && (error as NodeJS.ErrnoException).code === "ERR_WORKER_OUT_OF_MEMORY") {
        giveUp("data that unpack to more than the memory holds");
        return;
      }
      leave();
      // The thread does not know: it may have run out of memory.
      reject(Object.assign(error, { path: task.file.name }));
    };
    const leave = (): void => {
      clearInterval(timer);
      worker.off("message", onMessage).off("error", onError).off("exit", onExit);
    };
    worker.on("message", onMessage).on("error", onError).on("exit", onExit);
    say({ kind: "read", task });
  });
}
