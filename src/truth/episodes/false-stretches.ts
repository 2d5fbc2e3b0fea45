import type { SignalAccount } from "../signals/account.js";
import type { Timeline } from "../../timeline/timeline.js";
import { OFF, ON, UNKNOWN } from "../../timeline/timeline.js";
import type { CompareSettings, TurnComparison } from "./compare-turns.js";
import { LAG_TOLERANCE_MS } from "./episode.js";
import { walkTogether } from "../../timeline/walk-together.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** A stretch in which the signal contradicted a known reference, explained by no lag and no missed turn. */
export interface FalseStretch {
  readonly said: 0 | 1;
  readonly from: number;
  readonly to: number;
  /**
   * `phantom`: away from the subject's transitions. `bounce`: wholly within {@link LAG_TOLERANCE_MS} of one, where
   * the reference's own instant is no sharper than that.
   */
  readonly sort: "phantom" | "bounce";
  /** The signal itself took it back, before the reference moved: for `said` off, a visit broken in two. */
  readonly takenBack: boolean;
}

/** A contradiction that began when the reference turned and the signal stayed: it is late, or missed the turn. */
interface StayedStretch {
  readonly said: 0 | 1;
  readonly from: number;
  readonly to: number;
}

/** Both sorts, each in time order. */
interface Contradictions {
  readonly found: FalseStretch[];
  readonly stayed: StayedStretch[];
}

/** A contradiction that is not over yet. */
interface OpenStretch {
  readonly from: number;
  readonly startedByReference: boolean;
  to: number;
}

/**
 * The stretches in which `account` said on or off while the reference knew the opposite, in time order. One stretch
 * lasts until the signal says otherwise or the reference comes to agree; times at which either is unknown do not end
 * it, so a sensor stuck through ten silences is false once, not ten times. Not `found`, because they belong to a turn:
 * - what starts when the *reference* turns and the signal stays: the signal is late or missed the turn. It is in
 *   `stayed`;
 * - what ends when the reference comes to agree within `joinMs`: the signal was early;
 * - what starts with a signal turn that is matched: a late, short visit. `comparisons` are the two directions of the
 *   same signal against the same reference.
 */
export function contradictions(
  account: SignalAccount,
  reference: Timeline,
  comparisons: readonly TurnComparison[],
  settings: CompareSettings,
): Contradictions {
  const matchedTo = (state: 0 | 1): ReadonlySet<number> =>
    new Set(comparisons.filter((one) => one.to === state).flatMap(matchedInstants));
  const matchedAt = [matchedTo(OFF), matchedTo(ON)] as const;
  const transitions = comparisons.flatMap((one) => one.reference.flatMap((turn) => [turn.earliest, turn.at])).sort((a, b) => a - b);
  const found: FalseStretch[] = [];
  const stayed: StayedStretch[] = [];
  let said: 0 | 1 | null = null;
  let saidSince = account.account.start;
  let agreedOnce = false;
  let open: OpenStretch | null = null;

  const close = (endedBy: "signal" | "reference" | "end", at: number): void => {
    const stretch = open;
    open = null;
    if (stretch === null || said === null) return;
    if (stretch.startedByReference) {
      stayed.push({ said, from: stretch.from, to: stretch.to });
      return;
    }
    if (endedBy === "reference" && at - stretch.from <= settings.joinMs) return;
    if (matchedAt[said].has(saidSince)) return;
    const nearest = transitions[firstAtOrAfter(transitions, stretch.to - LAG_TOLERANCE_MS)];
    const bounce = nearest !== undefined && nearest <= stretch.from + LAG_TOLERANCE_MS;
    found.push({ said, from: stretch.from, to: stretch.to, sort: bounce ? "bounce" : "phantom", takenBack: endedBy === "signal" });
  };

  walkTogether([account.account, reference], (from, to, [signalState, referenceState]) => {
    if (signalState === UNKNOWN) return;
    if (signalState !== said) {
      close("signal", from);
      said = signalState;
      saidSince = from;
      agreedOnce = false;
    }
    if (referenceState === UNKNOWN) return;
    if (referenceState === said) {
      close("reference", from);
      agreedOnce = true;
      return;
    }
    open ??= { from, startedByReference: agreedOnce, to };
    open.to = to;
  });
  close("end", account.account.end);
  return { found, stayed };
}

/** Instants of the signal turns that have a match. */
function matchedInstants(comparison: TurnComparison): number[] {
  return comparison.signal.filter((_, index) => comparison.matches.ofSignal[index] !== -1).map((turn) => turn.at);
}
