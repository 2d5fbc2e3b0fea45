import { makeFaultedHistories } from "../../../src/judge/drills/faults.js";
import { judgeFiring } from "../../../src/judge/replay/firing-outcomes.js";
import { overHistory, type RuleOverHistory } from "../../../src/judge/replay/replay.js";
import { wantedOutcomes } from "../../../src/judge/replay/wanted-outcomes.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { Drill, Fault } from "../../../src/result/trials.js";

/** The account with the fault put in as the drills themselves do. */
export function quicklyFaulted(account: SignalAccount, fault: Fault): SignalAccount {
  const { timeline, barriers } = makeFaultedHistories()(account, fault);
  return { ...account, live: timeline, restarts: barriers.map((one) => ({ ...one, cause: "" })) };
}

/** What drills are about: each signal of the rule by itself, then each cause that one of them shares; both by name. */
export function targetsOf({ site, signals }: Pick<RuleOverHistory, "site" | "signals">): { readonly on: Drill["on"]; readonly name: string }[] {
  const causes = new Set(site.signals.filter(({ id }) => signals.includes(id)).flatMap(({ shares }) => shares));
  return [...signals.toSorted().map((name) => ({ on: "signal" as const, name })), ...[...causes].sort().map((name) => ({ on: "cause" as const, name }))];
}

/** A drill by replaying and judging everything from scratch, with the fault put into the accounts as `faultedAccount` does. */
export function replayedDrill(
  faultedAccount: (account: SignalAccount, fault: Fault) => SignalAccount,
  target: { readonly on: Drill["on"]; readonly name: string },
  fault: Fault,
  rule: RuleOverHistory,
): Drill {
  const { site, tolerance, history } = rule;
  const hit = new Set(target.on === "signal" ? [target.name] : site.signals.filter(({ shares }) => shares.includes(target.name)).map(({ id }) => id));
  const faulted = new Map([...history.accounts].map(([name, account]) => [name, hit.has(name) ? faultedAccount(account, fault) : account]));
  const judge = (accounts: ReadonlyMap<string, SignalAccount>) => {
    const replayed = overHistory(rule, { ...history, accounts });
    return { firings: replayed.replayed.firings.map((at) => judgeFiring(at, replayed)), missed: wantedOutcomes(replayed).map((one) => one.outcome === "missed") };
  };
  const plain = judge(history.accounts);
  const now = judge(faulted);
  const lateMs = fault.startsWith("late by ") ? Number(fault.split(" ")[2]) * 60_000 : 0;
  const unmatched = [...plain.firings];
  const gained = now.firings.filter((firing) => {
    const twin = unmatched.findIndex((one) => one.outcome === firing.outcome && Math.abs(one.at - firing.at) <= tolerance.withinMs + lateMs);
    if (twin >= 0) unmatched.splice(twin, 1);
    return twin < 0;
  });
  return {
    on: target.on,
    name: target.name,
    fault,
    firings: now.firings.length,
    gained: gained.length,
    lost: unmatched.length,
    wrongGained: gained.filter((one) => one.outcome === "wrong").length,
    unverifiedGained: gained.filter((one) => one.outcome === "unverified").length,
    missedGained: now.missed.filter((missed, i) => missed && plain.missed[i] === false).length,
  };
}
