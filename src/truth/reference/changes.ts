import type { SignalAccount } from "../signals/account.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import { BOUNCE_MS } from "./priors.js";

/**
 * Changes of a signal from one known state to the other, in time order, also across an unknown stretch.
 * Change i came between `earliest[i]` and `at[i]` (equal when nothing was unknown in between) and leads to `to[i]`.
 * `seen[i]` is 1 when its instant is known: no gap, or one that the site bridges and that is no restart.
 */
export interface Changes {
  readonly at: Float64Array;
  readonly earliest: Float64Array;
  readonly to: Uint8Array;
  readonly seen: Uint8Array;
}

interface Change {
  readonly at: number;
  readonly earliest: number;
  readonly to: number;
  readonly seen: boolean;
}

/**
 * See {@link Changes}. A contact that bounces changes many times at one closing: seen changes each within {@link BOUNCE_MS} of the one
 * before count as what they come to, at the first of them; if they come to nothing, as nothing.
 * Linear in the number of steps, times the few restarts that overlap a gap.
 */
export function changesOf(account: SignalAccount, bridgeMs: number): Changes {
  const kept: Change[] = [];
  let train: Change[] = [];
  const endTrain = (): void => {
    // Directions alternate: an odd number of changes comes to the first.
    if (train.length % 2 === 1) kept.push(train[0]!);
    train = [];
  };
  for (const change of everyChange(account, bridgeMs)) {
    const previous = train.at(-1);
    if (previous !== undefined && !(change.seen && previous.seen && change.at - previous.at <= BOUNCE_MS)) endTrain();
    train.push(change);
  }
  endTrain();
  return {
    at: Float64Array.from(kept, (one) => one.at),
    earliest: Float64Array.from(kept, (one) => one.earliest),
    to: Uint8Array.from(kept, (one) => one.to),
    seen: Uint8Array.from(kept, (one) => (one.seen ? 1 : 0)),
  };
}

function everyChange(account: SignalAccount, bridgeMs: number): Change[] {
  const { times, states } = account.account;
  const changes: Change[] = [];
  let lastKnown: number = UNKNOWN;
  let knownUntil = -Infinity;
  for (let i = 0; i < times.length; i += 1) {
    const to = states[i]!;
    if (to === UNKNOWN) continue;
    const at = times[i]!;
    if (lastKnown !== UNKNOWN && to !== lastKnown) {
      const earliest = knownUntil;
      const bridged = at - earliest <= bridgeMs && !account.restarts.some((one) => one.from < at && one.to > earliest);
      changes.push({ at, earliest, to, seen: at === earliest || bridged });
    }
    lastKnown = to;
    knownUntil = times[i + 1] ?? account.account.end;
  }
  return changes;
}
