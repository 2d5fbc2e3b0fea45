/**
 * A program of its own around one thread, whose script it is given: it hands on what is said to and fro. It is the thread that reads, so that this
 * program still notices that nobody listens any more, whatever the thread does.
 */
import { Worker } from "node:worker_threads";

/** A stretch of a million rows of ten columns of text fits; a hostile file is stopped before it fills the computer. Our own choice. */
const MOST_MEGABYTES = 1_000;
/** As for other threads that read. */
const YOUNG_MEGABYTES = 12;

const [, , script = ""] = process.argv;
const thread = new Worker(new URL(script), { resourceLimits: { maxOldGenerationSizeMb: MOST_MEGABYTES, maxYoungGenerationSizeMb: YOUNG_MEGABYTES } });
process.on("message", (message) => {
  thread.postMessage(message);
});
process.on("disconnect", () => process.exit());
thread.on("message", (message: object | string) => process.send?.(message));
// It says itself what goes wrong: this is the end of its memory.
thread.on("error", () => process.exit(1));
thread.on("exit", () => process.exit(1));
