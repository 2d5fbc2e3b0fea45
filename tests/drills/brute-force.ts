import type { Drill } from "../../src/drills/drill.js";
import type { Fault } from "../../src/drills/faults.js";
import type { ReferenceBook } from "../../src/reference/reference.js";
import { factsWithout } from "../../src/rules/facts.js";
import { judgeFiring } from "../../src/rules/outcomes.js";
import { replay } from "../../src/rules/replay.js";
import { toleranceOf } from "../../src/rules/tolerance.js";
import { wantedOutcomes } from "../../src/rules/wanted.js";
import type { SignalAccount } from "../../src/signals/account.js";
import { expressionRefs } from "../../src/site/expression-refs.js";
import type { RuleSpec, Site } from "../../src/site/site.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";
import type { TruthState } from "../../src/timeline/timeline.js";

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

function faultedAccount(account: SignalAccount, fault: Fault): SignalAccount {
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

/** A drill by putting the fault in instant by instant and replaying and judging everything from scratch. */
export function drillByForce(target: { readonly on: Drill["on"]; readonly name: string }, fault: Fault, rule: RuleSpec, site: Site, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): Drill {
  const own = expressionRefs(rule.when);
  const hit = new Set(target.on === "signal" ? [target.name] : site.signals.filter(({ shares }) => shares.includes(target.name)).map(({ id }) => id));
  const faulted = new Map([...accounts].map(([name, account]) => [name, hit.has(name) ? faultedAccount(account, fault) : account]));
  const witnesses = { outside: factsWithout(own, rule.rightWhen, book, site.bridgeMs), full: factsWithout([], rule.rightWhen, book, site.bridgeMs) };
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
  const unmatched = [...plain.firings];
  const gained = now.firings.filter((firing) => {
    const twin = unmatched.findIndex((one) => one.outcome === firing.outcome && Math.abs(one.at - firing.at) <= tolerance.withinMs);
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
