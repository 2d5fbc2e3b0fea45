import { difference, type Interval, totalMs, union } from "../../ground/intervals.js";
import type { ExportFault } from "../../result/export-faults.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import type { SignalAccount } from "../signals/account.js";
import type { RetellableAccounts } from "../signals/accounts.js";

/** What exports hide, by signal: in time order, disjoint. Signals of which nothing is hidden are missing. */
export type Hidden = ReadonlyMap<string, readonly Interval[]>;

/** What the faults of exports hide of each signal. */
export function hiddenBy(faults: readonly ExportFault[]): Hidden {
  const bySignal = new Map<string, Interval[]>();
  for (const { signals, from, to } of faults) {
    if (from >= to) continue;
    for (const signal of signals) bySignal.set(signal, [...(bySignal.get(signal) ?? []), { from, to }]);
  }
  return new Map([...bySignal].map(([signal, all]) => [signal, union(all)]));
}

/** Scores in which time that an export hides is no silence of the sensor: it counts as known. */
export function asIfHeard<Score extends { readonly signal: string; readonly knownShare: number }>(scores: readonly Score[], hidden: Hidden, period: Interval): Score[] {
  return scores.map((score) => {
    const own = hidden.get(score.signal);
    return own === undefined ? score : { ...score, knownShare: Math.min(1, score.knownShare + totalMs(own) / (period.to - period.from)) };
  });
}

/** Accounts that can be made again with another band, the same hidden in them either way. */
export function retellableHidden(told: RetellableAccounts, hidden: Hidden): RetellableAccounts {
  if (hidden.size === 0) return told;
  const accounts = withHidden(told.accounts, hidden);
  return { ...told, accounts, withBand: (signal, band) => withHidden(new Map([[signal, told.withBand(signal, band)]]), hidden).get(signal) ?? told.withBand(signal, band) };
}

/**
 * The accounts, unknown where an export hides what was said: a contact that reports changes only would otherwise keep
 * its last word to the end. A silence that the export explains is no silence of the sensor.
 */
export function withHidden(accounts: ReadonlyMap<string, SignalAccount>, hidden: Hidden): ReadonlyMap<string, SignalAccount> {
  return new Map([...accounts].map(([id, one]) => {
    const own = hidden.get(id);
    if (own === undefined) return [id, one];
    const silences = difference(one.silences, own);
    const vote = one.vote === undefined ? {} : { vote: masked(one.vote, own) };
    return [id, { ...one, account: masked(one.account, own), live: masked(one.live, own), ...vote, silences }];
  }));
}

function masked({ start, end, times, states }: Timeline, hidden: readonly Interval[]): Timeline {
  const steps: { at: number; state: number }[] = [];
  const stateFrom = (at: number): number => states[times.findLastIndex((one) => one <= at)] ?? UNKNOWN;
  times.forEach((at, i) => {
    if (!hidden.some(({ from, to }) => at >= from && at < to)) steps.push({ at, state: states[i] ?? UNKNOWN });
  });
  for (const { from, to } of hidden) {
    steps.push({ at: Math.max(start, from), state: UNKNOWN });
    if (to < end) steps.push({ at: to, state: stateFrom(to) });
  }
  steps.sort((a, b) => a.at - b.at);
  return canonicalTimeline(start, end, steps.map(({ at }) => at), steps.map(({ state }) => state));
}
