/** A thread of the study: is handed one mechanism and setting after another, and says what came of each. */
import { parentPort } from "node:worker_threads";
import { longRunOf, type LongRun, type Setting } from "./limits.js";
import { mechanisms } from "./mechanisms.js";
import { runSetting, type SettingResult } from "./run-setting.js";

/** What a thread is asked. */
export interface Asked {
  readonly mechanism: string;
  readonly setting: Setting;
  readonly months: number;
}

/** What it answers. */
export interface Answered extends Asked {
  readonly truth: LongRun;
  readonly result: SettingResult;
}

const truths = new Map<string, LongRun>();

parentPort?.on("message", (asked: Asked) => {
  const mechanism = mechanisms.find(({ id }) => id === asked.mechanism)!;
  const truth = truths.get(mechanism.id) ?? longRunOf(mechanism);
  truths.set(mechanism.id, truth);
  void runSetting(mechanism, truth, asked.setting, asked.months).then((result) => {
    const answer: Answered = { ...asked, truth, result };
    parentPort?.postMessage(answer);
  });
});
