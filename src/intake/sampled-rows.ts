import { InputError, type ProblemParts } from "../ground/problem.js";
import { hasProcesses, makeProcess, type Hand } from "./hand.js";
import type { InputFile } from "./input-file.js";
import { FALLEN, givenUpProblem, patienceFor } from "./patience.js";
import { readRows, type RowRequest } from "./read-rows.js";
import { finishSample, makeRowSample, sampleSink, type SampledRows } from "./row-sample.js";

/** What to sample; plain data, so that it can be handed to another program. `bound`: characters to keep. */
export interface SampleTask {
  readonly file: InputFile;
  readonly request: RowRequest;
  readonly bound: number;
}

/** What is told of it. */
export type FromSampler =
  | { readonly kind: "going on" }
  | { readonly kind: "sampled"; readonly rows: SampledRows }
  | { readonly kind: "refused"; readonly problems: readonly ProblemParts[] }
  | { readonly kind: "failed"; readonly message: string };

/**
 * A sample of an export's rows. A file over which its reader may not come back ({@link patienceFor}) is read by a program of its own, which is ended in time. `script` is the
 * compiled thread; where there is none (source run as it is), it is read here. Throws `InputError` if the file cannot be read.
 */
export async function sampledRows(task: SampleTask, script: URL = new URL("./sample-worker.js", import.meta.url)): Promise<SampledRows> {
  const patienceMs = patienceFor(task);
  if (patienceMs !== null && hasProcesses()) return byProcess(task, script, patienceMs);
  const sample = makeRowSample(task.bound);
  await readRows(task.file, task.request, sampleSink(sample), () => true);
  return finishSample(sample);
}

function byProcess(task: SampleTask, script: URL, patienceMs: number): Promise<SampledRows> {
  const reader: Hand<SampleTask, FromSampler> = makeProcess(script);
  let timer: NodeJS.Timeout | undefined;
  const sampled = new Promise<SampledRows>((resolve, reject) => {
    const giveUp = (found: string): void => {
      reject(new InputError([givenUpProblem(task, found)]));
    };
    const wait = (): void => {
      clearTimeout(timer);
      timer = setTimeout(giveUp, patienceMs, `nothing that came of it for ${Math.round(patienceMs / 1000)} s`);
    };
    reader.hear(
      (message) => {
        if (message.kind === "going on") wait();
        else if (message.kind === "sampled") resolve(message.rows);
        else reject(message.kind === "refused" ? new InputError(message.problems) : new Error(`reading ${task.file.name} failed: ${message.message}`));
      },
      (error, isFallen) => {
        if (isFallen) giveUp(FALLEN);
        else reject(error);
      },
    );
    reader.ready.then(() => {
      reader.say(task);
      wait();
    }, reject);
  });
  return sampled.finally(async () => {
    clearTimeout(timer);
    await reader.end();
  });
}
