/** A thread of the study: is handed one month after another, and says what asking came to. */
import { parentPort } from "node:worker_threads";
import type { LongRun, Setting } from "../verdict/limits.js";
import { monthSorts } from "./months.js";
import type { Memory } from "./person.js";
import { runMonth, truthOf, type MonthResult } from "./run-month.js";

/** What a thread is asked. */
export interface MonthAsked {
  readonly month: string;
  readonly setting: Setting;
  readonly unit: number;
  readonly memory: Memory & { readonly id: string };
  readonly alsoBefore: boolean;
}

/** What it answers. */
export interface MonthAnswered extends MonthAsked {
  readonly result: MonthResult;
}

const truths = new Map<string, LongRun>();

parentPort?.on("message", (asked: MonthAsked) => {
  const month = monthSorts.find(({ id }) => id === asked.month);
  if (month === undefined) throw new RangeError(`No sort of month is called ${asked.month}.`);
  const truth = truths.get(month.id) ?? truthOf(month);
  truths.set(month.id, truth);
  void runMonth(month, truth, asked.setting, asked.unit, asked.memory, asked.alsoBefore).then((result) => {
    const answer: MonthAnswered = { ...asked, result };
    parentPort?.postMessage(answer);
  });
});
