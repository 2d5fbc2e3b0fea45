/** A thread that takes samples of exports, as the main thread asks. */
import { parentPort } from "node:worker_threads";
import { InputError } from "../ground/problem.js";
import { READY } from "./hand.js";
import { readRows } from "./read-rows.js";
import { finishSample, makeRowSample, sampleSink } from "./row-sample.js";
import type { FromSampler, SampleTask } from "./sampled-rows.js";

const say = (message: FromSampler): void => {
  parentPort?.postMessage(message);
};

parentPort?.on("message", ({ file, request, bound }: SampleTask) => {
  const sample = makeRowSample(bound);
  const goOn = (): true => {
    say({ kind: "going on" });
    return true;
  };
  readRows(file, request, sampleSink(sample), goOn).then(
    () => {
      say({ kind: "sampled", rows: finishSample(sample) });
    },
    (error: unknown) => {
      if (error instanceof InputError) say({ kind: "refused", problems: error.problems });
      else say({ kind: "failed", message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    },
  );
});
parentPort?.postMessage(READY);
