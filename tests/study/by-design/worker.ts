/** A thread of the study: is handed one question after another, and answers each. */
import { parentPort } from "node:worker_threads";
import type { LongRun } from "../verdict/limits.js";
import { mechanisms } from "./mechanisms.js";
import { runHistory, truthOf, type HistoryResult } from "./run-history.js";

/** One history of a mechanism. */
export interface Asked {
  readonly mechanism: string;
  readonly setting: "breaks" | "sound";
  readonly history: number;
}

/** What it answers. */
export interface Answered extends Asked {
  readonly truth: LongRun;
  readonly result: HistoryResult;
}

const truths = new Map<string, LongRun>();

parentPort?.on("message", (asked: Asked) => {
  const mechanism = mechanisms.find(({ id }) => id === asked.mechanism)!;
  const truth = truths.get(mechanism.id) ?? truthOf(mechanism);
  truths.set(mechanism.id, truth);
  void runHistory(mechanism, truth, asked.setting, asked.history).then((result) => {
    const answer: Answered = { ...asked, truth, result };
    parentPort?.postMessage(answer);
  });
});
