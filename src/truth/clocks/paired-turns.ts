import type { SignalAccount } from "../signals/account.js";
import type { SignalSpec, Subject } from "../../site/site.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";

/** One change seen by two signals of one subject: when the first showed it, and how much later the second did. */
export interface PairedTurn {
  readonly subject: string;
  /** The two signals, the first source's first. */
  readonly signals: readonly [string, string];
  readonly to: 0 | 1;
  readonly at: number;
  /** Milliseconds, positive when the second was later. */
  readonly differenceMs: number;
}

/**
 * Turns of `first` and `second` that are each other's nearest, at most `windowMs` apart once the second are moved back
 * by `shiftMs`; differences are without the shift. Both lists rise. Linear.
 */
function mutualPairs(first: readonly number[], second: readonly number[], windowMs: number, shiftMs: number): [number, number][] {
  const moved = second.map((at) => at - shiftMs);
  const nearestInSecond = nearestOf(first, moved);
  const nearestInFirst = nearestOf(moved, first);
  return first.flatMap((at, i): [number, number][] => {
    const j = nearestInSecond[i] ?? -1;
    const later = second[j];
    return later !== undefined && nearestInFirst[j] === i && Math.abs(later - shiftMs - at) <= windowMs ? [[at, later - at]] : [];
  });
}

/**
 * For each of `asking` the index of the nearest in `among` (the earlier of two equally near); −1 where there is none.
 */
function nearestOf(asking: readonly number[], among: readonly number[]): number[] {
  let j = 0;
  return asking.map((at) => {
    const away = (k: number): number => Math.abs((among[k] ?? Infinity) - at);
    while (away(j + 1) < away(j)) j += 1;
    return among.length === 0 ? -1 : j;
  });
}

/** The known turns of a signal to a state, minus its settling time: that delay is ours, not the clock's. */
function turnInstants(account: SignalAccount, spec: SignalSpec, to: 0 | 1): number[] {
  return turned(account.account, to, { bridgeMs: 0, barriers: account.restarts }).map((turn) => turn.at - spec.settleMs);
}

/** Two signals of one subject on two sources, with their turns to off and to on. */
export interface Watchers {
  readonly subject: string;
  readonly signals: readonly [string, string];
  readonly first: readonly [readonly number[], readonly number[]];
  readonly second: readonly [readonly number[], readonly number[]];
}

/**
 * For every subject watched by both sources all pairs of their signals. All pairs of a subject see the same changes, so
 * a caller must pick one of them.
 */
export function watchersOf(
  subjects: readonly Subject[],
  firstSignals: readonly SignalSpec[],
  secondSignals: readonly SignalSpec[],
  accounts: ReadonlyMap<string, SignalAccount>,
): Watchers[] {
  const both = (spec: SignalSpec): readonly [readonly number[], readonly number[]] | null => {
    const account = accounts.get(spec.id);
    return account === undefined ? null : [turnInstants(account, spec, OFF), turnInstants(account, spec, ON)];
  };
  return subjects.flatMap(({ id }) =>
    firstSignals
      .filter((one) => one.subject === id)
      .flatMap((one) =>
        secondSignals
          .filter((other) => other.subject === id)
          .flatMap((other): Watchers[] => {
            const [first, second] = [both(one), both(other)];
            return first === null || second === null ? [] : [{ subject: id, signals: [one.id, other.id], first, second }];
          }),
      ),
  );
}

/** The paired turns of two watchers, by instant. */
export function pairedTurns({ subject, signals, first, second }: Watchers, windowMs: number, shiftMs: number): PairedTurn[] {
  return ([OFF, ON] as const)
    .flatMap((to) =>
      mutualPairs(first[to], second[to], windowMs, shiftMs).map(([at, differenceMs]) => ({ subject, signals, to, at, differenceMs })),
    )
    .sort((a, b) => a.at - b.at);
}
