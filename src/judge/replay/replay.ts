import type { RuleSpec } from "../../site/site.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { collapse } from "../../timeline/collapse.js";
import { durations } from "../../timeline/durations.js";
import { rises } from "../../timeline/rises.js";
import type { Timeline } from "../../timeline/timeline.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";

/** An instant (epoch milliseconds) at which the condition became true. */
export interface Rise {
  readonly at: number;
  /** The firing after which the rule was still at rest; null when the rule fired here. */
  readonly restedAfter: number | null;
}

/** What the rule would have done over the period. */
export interface Replay {
  /** The condition and all its parts, as the rule would have seen them at the time. */
  readonly parts: EvaluatedParts;
  readonly condition: Timeline;
  /** Every rise of the condition in time order: the firings, and those that a rest swallowed. */
  readonly rises: readonly Rise[];
  /** Epoch milliseconds, in order. */
  readonly firings: readonly number[];
  /** Time during which the condition was unknown. */
  readonly blindMs: number;
}

/**
 * Replays a rule on what it would have seen at the time (`live` histories; no turn is believed over a restart).
 * Unknown counts as false, so every instant at which the whole condition becomes on from off *or from unknown* is a firing:
 * a rule that says "not empty" really does fire when its sensor comes back, and that must show.
 * A condition that is on when the period begins has not become so: no firing.
 * @throws RangeError when the rule names a signal without an account.
 */
export function replay(rule: RuleSpec, accounts: ReadonlyMap<string, SignalAccount>, bridgeMs: number): Replay {
  const parts = evaluateParts(
    rule.when,
    (ref) => {
      const account = accounts.get(ref);
      if (account === undefined) throw new RangeError(`Rule "${rule.name}" names the signal "${ref}", of which there is no account.`);
      return { timeline: account.live, barriers: account.restarts };
    },
    bridgeMs,
  );
  const condition = timelineOfPart(rule.when, parts);
  const found = withRests(rises(collapse(condition)), rule.restMs);
  return {
    parts,
    condition,
    rises: found,
    firings: found.filter((rise) => rise.restedAfter === null).map((rise) => rise.at),
    blindMs: durations(condition).unknownMs,
  };
}

/**
 * After a firing at `t` the rule stays quiet on `[t, t + restMs)`. A rise in that time is swallowed: it is no firing and
 * does not begin a new rest.
 */
export function withRests(instants: ArrayLike<number>, restMs: number): Rise[] {
  let last = -Infinity;
  return Array.from(instants, (at) => {
    if (at < last + restMs) return { at, restedAfter: last };
    last = at;
    return { at, restedAfter: null };
  });
}
