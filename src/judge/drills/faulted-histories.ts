import type { SignalAccount } from "../../truth/signals/account.js";
import { withFault, type SignalHistory } from "./faults.js";
import type { Fault } from "../../result/trial-schema.js";

/** A signal's live history with a fault in it. */
export type FaultedHistories = (account: SignalAccount, fault: Fault) => SignalHistory;

/** Puts each fault into each signal once, however many rules and shared causes ask for it. */
export function makeFaultedHistories(): FaultedHistories {
  const made = new Map<SignalAccount, Map<Fault, SignalHistory>>();
  return (account, fault) => {
    const ofAccount = made.get(account) ?? new Map<Fault, SignalHistory>();
    made.set(account, ofAccount);
    const history = ofAccount.get(fault) ?? withFault({ timeline: account.live, barriers: account.restarts }, fault);
    ofAccount.set(fault, history);
    return history;
  };
}
