import type { Counts } from "../../result/counts.js";
import type { Round } from "./rounds.js";

/** What a signal was called in the oldest audit at hand: a signal that was renamed stays the same work order. */
export type FirstNames = (site: string, signal: string) => string;

/**
 * Follows renamed signals back through the audits of each site. A signal is taken for a renamed one where it is new, one
 * of the same subject and kind is gone, and there is no other of either.
 */
export function firstNames(rounds: readonly Round[]): FirstNames {
  const names = new Map<string, string>();
  const keyOf = (site: string, signal: string): string => JSON.stringify([site, signal]);
  for (const now of rounds[0] ?? []) {
    const current = new Map(now.signals.map(({ signal }) => [signal, signal]));
    let later: Counts = now;
    for (const round of rounds.slice(1)) {
      const before = round.find(({ site }) => site.name === now.site.name);
      if (before === undefined) break;
      for (const [name, seen] of current) current.set(name, renamedFrom(seen, later, before) ?? seen);
      later = before;
    }
    for (const [name, first] of current) names.set(keyOf(now.site.name, name), first);
  }
  return (site, signal) => names.get(keyOf(site, signal)) ?? signal;
}

/** What a signal of `now` was called in `before`; null where nothing says that it had another name. */
export function renamedFrom(signal: string, now: Pick<Counts, "signals">, before: Pick<Counts, "signals">): string | null {
  const own = now.signals.find((one) => one.signal === signal);
  if (own === undefined || before.signals.some((one) => one.signal === signal)) return null;
  const like = ({ subject, kind }: Counts["signals"][number]): boolean => subject === own.subject && kind === own.kind;
  const fresh = now.signals.filter((one) => like(one) && !before.signals.some((other) => other.signal === one.signal));
  const gone = before.signals.filter((one) => like(one) && !now.signals.some((other) => other.signal === one.signal));
  return fresh.length === 1 && gone.length === 1 ? (gone[0]?.signal ?? null) : null;
}
