import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { MOST_ROWS_WAITING, type FromWorker, type ToWorker } from "./crew-messages.js";
import { hasProcesses, makeProcess, makeThread, type Hand } from "./hand.js";
import { FALLEN, givenUp, patienceFor } from "./patience.js";
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
 * A file that its reader may never come back from (see {@link patienceFor}) is read by a program of its own: where that is ended, or falls, the file
 * becomes a problem, and another takes its place.
 */
export function makeCrew(fileBytes: readonly number[], script: URL = new URL("./worker.js", import.meta.url)): Crew {
  const total = fileBytes.reduce((sum, bytes) => sum + bytes, 0);
  const size = Math.min(MOST_THREADS, availableParallelism(), fileBytes.length, Math.floor(total / WORTH_A_THREAD_BYTES));
  const isThere = existsSync(fileURLToPath(script));
  return withProcesses(size < 2 || !isThere ? crewOfOne() : crewOfThreads(size, script), isThere && hasProcesses() ? script : null);
}

type Reader = Hand<ToWorker, FromWorker>;

function crewOfOne(): Crew {
  return {
    size: 1,
    read: (task, watch) => readFile(task, { onSetAside: (row) => { watch.onSetAside([row], () => undefined); }, onProgress: watch.onProgress }),
    dismiss: () => Promise.resolve(),
  };
}

function crewOfThreads(size: number, script: URL): Crew {
  const all = Array.from({ length: size }, (): Reader => makeThread(script, { maxYoungGenerationSizeMb: YOUNG_MEGABYTES }));
  const idle = [...all];
  return {
    size,
    async read(task, watch) {
      const thread = idle.pop();
      if (thread === undefined) throw new Error("every thread of the crew is busy");
      try {
        return (await readBy(thread, task, watch)).outcome;
      } finally {
        idle.push(thread);
      }
    },
    async dismiss() {
      await Promise.all(all.map((thread) => thread.end()));
    },
  };
}

/** Programs are started when a file needs one, and read further files if they live. */
function withProcesses(others: Crew, script: URL | null): Crew {
  const all: Reader[] = [];
  const idle: Reader[] = [];
  return {
    size: others.size,
    async read(task, watch) {
      if (script === null || patienceFor(task) === null) return others.read(task, watch);
      let reader = idle.pop();
      if (reader === undefined) {
        reader = makeProcess(script);
        all.push(reader);
      }
      await reader.ready;
      const { outcome, isOver } = await readBy(reader, task, watch);
      if (!isOver) idle.push(reader);
      return outcome;
    },
    async dismiss() {
      await Promise.all([others.dismiss(), ...all.map((reader) => reader.end())]);
    },
  };
}

/** `isOver`: the reader was ended over the file, and reads no other. */
interface ReadBy {
  readonly outcome: FileOutcome;
  readonly isOver: boolean;
}

function readBy(reader: Reader, task: FileTask, watch: CrewWatch): Promise<ReadBy> {
  const patienceMs = patienceFor(task);
  let waiting = 0;
  return new Promise((resolve, reject) => {
    let lastSign = performance.now();
    const giveUp = (why: string): void => {
      leave();
      void reader.end();
      resolve({ outcome: givenUp(task, why), isOver: true });
    };
    // The reader waits itself while more of its rows are on their way than it may send.
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
            reader.say({ kind: "taken", rows: message.rows.length });
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
    const stop = reader.hear(onMessage, (error, isFallen) => {
      if (isFallen) {
        giveUp(FALLEN);
        return;
      }
      leave();
      // It does not know which file: it may have run out of memory.
      reject(Object.assign(error, { path: task.file.name }));
    });
    const leave = (): void => {
      clearInterval(timer);
      stop();
    };
    reader.say({ kind: "read", task });
  });
}
