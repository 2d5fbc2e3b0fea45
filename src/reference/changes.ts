import type { SignalAccount } from "../signals/account.js";
import { UNKNOWN } from "../timeline/timeline.js";

/**
 * Every change of a signal from one known state to the other, in time order, also across an unknown stretch.
 * Change i came between `earliest[i]` and `at[i]` (equal when nothing was unknown in between) and leads to `to[i]`.
 * `seen[i]` is 1 when its instant is known: no gap, or one that the site bridges and that is no restart.
 */
export interface Changes {
  readonly at: Float64Array;
  readonly earliest: Float64Array;
  readonly to: Uint8Array;
  readonly seen: Uint8Array;
}

/** See {@link Changes}. Linear in the number of steps, times the few restarts that overlap a gap. */
export function changesOf(account: SignalAccount, bridgeMs: number): Changes {
  const { times, states } = account.account;
  const [at, earliest, to, seen]: number[][] = [[], [], [], []];
  let lastKnown: number = UNKNOWN;
  let knownUntil = -Infinity;
  for (let i = 0; i < times.length; i += 1) {
    const state = states[i]!;
    if (state === UNKNOWN) continue;
    if (lastKnown !== UNKNOWN && state !== lastKnown) {
      const instant = times[i]!;
      at!.push(instant);
      earliest!.push(knownUntil);
      to!.push(state);
      const bridged = instant - knownUntil <= bridgeMs && !account.restarts.some((one) => one.from < instant && one.to > knownUntil);
      seen!.push(instant === knownUntil || bridged ? 1 : 0);
    }
    lastKnown = state;
    knownUntil = times[i + 1] ?? account.account.end;
  }
  return { at: Float64Array.from(at!), earliest: Float64Array.from(earliest!), to: Uint8Array.from(to!), seen: Uint8Array.from(seen!) };
}
