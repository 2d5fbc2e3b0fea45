import type { SignalAccount } from "../../truth/signals/account.js";
import { gridOf } from "../../statistics/steady-lag.js";

/** With fewer changes than this a common grid may be chance. Our own choice. */
const LEAST_CHANGES = 10;

/** How coarsely a signal's changes are told, milliseconds: five minutes where all of them lie whole steps of five minutes apart. 0 where they are told as they come. */
export function readEveryMs(account: SignalAccount | undefined): number {
  if (account === undefined) return 0;
  const changes = account.account.times.subarray(1);
  return changes.length < LEAST_CHANGES ? 0 : gridOf(changes);
}
