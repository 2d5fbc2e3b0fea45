import type { Drill } from "../../../src/judge/drills/drill.js";
import { withFault } from "../../../src/judge/drills/faults.js";
import type { ReferenceBook } from "../../../src/truth/reference/reference.js";
import { factsOutside, factsWithout } from "../../../src/judge/rule/facts.js";
import { causeGroups } from "../../../src/site/cause-groups.js";
import { judgeFiring } from "../../../src/judge/replay/outcomes.js";
import { replay } from "../../../src/judge/replay/replay.js";
import { toleranceOf } from "../../../src/judge/rule/prepare.js";
import { wantedOutcomes } from "../../../src/judge/replay/wanted.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import { expressionRefs } from "../../../src/site/expression-refs.js";
import type { RuleSpec, Site } from "../../../src/site/site.js";
import type { Fault } from "../../../src/result/trial-schema.js";

/** The account with the fault put in as the drills themselves do. */
export function quicklyFaulted(account: SignalAccount, fault: Fault): SignalAccount {
  const { timeline, barriers } = withFault({ timeline: account.live, barriers: account.restarts }, fault);
  return { ...account, live: timeline, restarts: barriers.map((one) => ({ ...one, cause: "" })) };
}

/** A drill by replaying and judging everything from scratch, with the fault put into the accounts as `faultedAccount` does. */
export function replayedDrill(
  faultedAccount: (account: SignalAccount, fault: Fault) => SignalAccount,
  target: { readonly on: Drill["on"]; readonly name: string },
  fault: Fault,
  rule: RuleSpec,
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  book: ReferenceBook,
): Drill {
  const own = expressionRefs(rule.when);
  const hit = new Set(target.on === "signal" ? [target.name] : site.signals.filter(({ shares }) => shares.includes(target.name)).map(({ id }) => id));
  const faulted = new Map([...accounts].map(([name, account]) => [name, hit.has(name) ? faultedAccount(account, fault) : account]));
  const groups = causeGroups(site.signals);
  const witnesses = { outside: factsOutside(rule, groups, book, site.bridgeMs, "verified"), support: factsOutside(rule, groups, book, site.bridgeMs, "supported"), full: factsWithout([], rule.rightWhen, book, site.bridgeMs) };
  const tolerance = toleranceOf(rule, site);
  const judge = (using: ReadonlyMap<string, SignalAccount>) => {
    const replayed = replay(rule, using, site.bridgeMs);
    return {
      firings: replayed.firings.map((at) => judgeFiring(at, tolerance.earlyMs, witnesses, own, site)),
      missed: wantedOutcomes(rule, site, replayed, witnesses, tolerance).list.map((one) => one.outcome === "missed"),
    };
  };
  const plain = judge(accounts);
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
