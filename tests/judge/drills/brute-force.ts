import type { SignalAccount } from "../../../src/truth/signals/account.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import type { Fault } from "../../../src/result/trials.js";

/** Every instant that can matter is a multiple of this: histories step on half minutes, restarts last 45 s. */
const GRID_MS = 15_000;

/** The state under a fault at one instant, straight from what the fault is said to be. */
function faultedState(x: SignalAccount["live"], fault: Fault, t: number): TruthState {
  const now = stateAt(x, t);
  const late = (ms: number): TruthState => stateAt(x, Math.max(x.start, t - ms));
  const sinceFirst = t - x.start - 30 * 60_000;
  const sinceLast = sinceFirst < 0 ? Infinity : sinceFirst % (61 * 60_000);
  switch (fault) {
    case "stuck on":
      return now === 2 ? 2 : 1;
    case "stuck off":
      return now === 2 ? 2 : 0;
    case "late by 1 min":
      return late(60_000);
    case "late by 5 min":
      return late(300_000);
    case "late by 15 min":
      return late(900_000);
    case "silent":
      return 2;
    case "flapping":
      return now !== 2 && (sinceLast < 30_000 || (sinceLast >= 60_000 && sinceLast < 90_000) || (sinceLast >= 120_000 && sinceLast < 150_000)) ? ((1 - now) as 0 | 1) : now;
    case "restart":
      return sinceLast < 45_000 ? 2 : now;
  }
}

/** The account with the fault put in instant by instant. */
export function slowlyFaulted(account: SignalAccount, fault: Fault): SignalAccount {
  const times: number[] = [];
  for (let t = account.live.start; t < account.live.end; t += GRID_MS) times.push(t);
  const live = canonicalTimeline(
    account.live.start,
    account.live.end,
    times,
    times.map((t) => faultedState(account.live, fault, t)),
  );
  const lateMs = fault.startsWith("late by ") ? Number(fault.split(" ")[2]) * 60_000 : 0;
  const restarts = fault === "silent" ? [] : account.restarts.map((one) => ({ ...one, from: one.from + lateMs, to: one.to + lateMs }));
  return { ...account, live, restarts };
}
