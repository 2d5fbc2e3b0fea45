import type { Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { stretches } from "../../timeline/stretches.js";
import { type Timeline, type Turn, UNKNOWN } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";
import type { SignalAccount } from "../signals/account.js";
import { likelyInstant, matchInstants, type TurnMatches } from "./match-turns.js";

/** The turns of a signal to one state set against those of a reference of its subject. Lists rise by `at`. */
export interface TurnComparison {
  readonly to: 0 | 1;
  readonly reference: readonly Turn[];
  readonly signal: readonly Turn[];
  readonly matches: TurnMatches;
  /**
   * Per reference turn: whether the signal could have shown it anywhere within the window, whatever the outcome. So the
   * share of missed turns among the watched ones is not biased by blind time.
   */
  readonly watched: readonly boolean[];
}

/**
 * Matches the signal's turns to `to` with the reference's: same direction, one to one, in order, no further apart than
 * `joinMs` (see {@link matchInstants}). In the signal, gaps are bridged up to `bridgeMs` and restarts bar a bridged
 * turn; in the reference, see {@link referenceTurns}; `barriers` are the reference's.
 */
export function compareTurns(
  account: SignalAccount,
  reference: Timeline,
  to: 0 | 1,
  settings: CompareSettings,
  barriers: readonly Interval[] = [],
): TurnComparison {
  const asked = referenceTurns(reference, to, settings, barriers);
  const signalTurns = turned(account.account, to, { bridgeMs: settings.bridgeMs, barriers: account.restarts });
  const blind = blindStretches(account, settings.bridgeMs);
  const blindEnds = blind.map((stretch) => stretch.to);
  const watched = asked.map((turn) => {
    const from = turn.earliest - settings.joinMs;
    const until = turn.at + settings.joinMs;
    if (from < account.account.start || until > account.account.end) return false;
    // The first blind stretch that ends after `from` is the only one that can be the first to overlap the window.
    const next = blind[firstAtOrAfter(blindEnds, from + 1)];
    return next === undefined || next.from >= until;
  });
  return {
    to,
    reference: asked,
    signal: signalTurns,
    matches: matchInstants(asked.map(likelyInstant), signalTurns.map(likelyInstant), settings.joinMs),
    watched,
  };
}

/** A turn of the reference, and the turn of the signal that is matched with it. */
export interface MatchedPair {
  readonly turn: Turn;
  readonly matched: Turn;
}

/** The pair of reference turn `index`; null if it has no match. */
export function matchedPair(comparison: TurnComparison, index: number): MatchedPair | null {
  const matched = comparison.signal[comparison.matches.ofReference[index] ?? -1];
  const turn = comparison.reference[index];
  return matched === undefined || turn === undefined ? null : { turn, matched };
}

/** By how many milliseconds the signal was later than the reference; negative if it was earlier. */
export function lagOf({ turn, matched }: MatchedPair): number {
  return likelyInstant(matched) - likelyInstant(turn);
}

/** {@link lagOf} the pair of reference turn `index`; null if it has no match. */
export function lagOfReferenceTurn(comparison: TurnComparison, index: number): number | null {
  const pair = matchedPair(comparison, index);
  return pair === null ? null : lagOf(pair);
}

/** Unknown stretches in which a turn would be lost: longer than `bridgeMs`, or part of a restart. */
function blindStretches(account: SignalAccount, bridgeMs: number): readonly Interval[] {
  return stretches(account.account, UNKNOWN).filter(
    (gap) => gap.to - gap.from > bridgeMs || account.restarts.some((restart) => restart.from < gap.to && gap.from < restart.to),
  );
}

/** Settings of a comparison, both from the site: how far apart turns may lie, and which gaps are bridged. */
export interface CompareSettings {
  readonly joinMs: number;
  readonly bridgeMs: number;
}

/**
 * The turns of a *reference* to a state. A gap between its two known states is bridged up to `joinMs`, further than in
 * a signal: a signal that comes back after a gap saw no change, but if the best account was surely off before the gap
 * and is surely on after it, the change did happen in it. Two witnesses of which one lags three minutes leave such a
 * gap at every arrival. Beyond `joinMs` the instant would be vaguer than the window in which turns are matched: no
 * turn. Nor is there one across `barriers`: restarts in which no witness was left, where whatever returns returns at
 * once.
 */
export function referenceTurns(reference: Timeline, to: 0 | 1, settings: CompareSettings, barriers: readonly Interval[] = []): Turn[] {
  return turned(reference, to, { bridgeMs: Math.max(settings.bridgeMs, settings.joinMs), barriers });
}
