import type { Reference } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { chargedTurns, chargingTimeline } from "./charging.js";
import { type CompareSettings, compareTurns, lagOf, matchedPair, type MatchedPair, type TurnComparison } from "./compare-turns.js";
import { LAG_TOLERANCE_MS } from "./episode.js";
import type { Movement } from "./link.js";
import { firstAtOrAfter } from "../../ground/search.js";
import type { Participant, ParticipantOutcome } from "../../result/episodes.js";

/** How a signal responded to one movement: outcome, and lag in milliseconds where a turn was matched. */
interface Response {
  readonly outcome: ParticipantOutcome;
  readonly lagMs: number | null;
}

/** Gives a signal's response to each movement of its subject; made once per signal. */
export type ResponseTo = (movement: Pick<Movement, "to" | "index">) => Response;

/**
 * Compares a signal with its subject's reference in both directions and answers for single movements. Missed or
 * fragmented only if the diary or two independent witnesses contradict it: if one does, nobody knows which of the two
 * is wrong: unknown. `reference` holds the signal's own vote, and a delay behind itself is none: the lag is taken against
 * `others`, the reference without it, and is null, with nothing said of how prompt it was, where these saw no such turn.
 */
export function responsesOf(account: SignalAccount, reference: Reference, others: Reference, settings: CompareSettings): ResponseTo {
  const charging = chargingTimeline(reference);
  const judged = (to: 0 | 1) => {
    const comparison = compareTurns(account, reference.timeline, to, settings, reference.barriers);
    // Until its extra turn the signal said the opposite: it is charged only if somebody knew better then.
    const extra = comparison.signal
      .filter(
        (turn, i) =>
          comparison.matches.ofSignal[i] === -1 &&
          stateAt(charging, turn.earliest - 1) === to &&
          stateAt(reference.timeline, turn.at) === to,
      )
      .map((turn) => turn.at);
    const lags = lagsBehind(compareTurns(account, others.timeline, to, settings, others.barriers));
    return { comparison, charged: chargedTurns(comparison, reference), extra, lags };
  };
  const directions = [judged(OFF), judged(ON)] as const;
  const transitions = directions.flatMap(({ comparison }) => comparison.reference.map((turn) => turn.at)).sort((a, b) => a - b);

  return ({ to, index }) => {
    const { comparison, charged, extra, lags } = directions[to];
    const pair = matchedPair(comparison, index);
    if (pair === null) return { outcome: comparison.watched[index] === true && charged[index] === true ? "missed" : "unknown", lagMs: null };
    const lagMs = lags.get(pair.matched.at) ?? null;
    const until = transitions[firstAtOrAfter(transitions, pair.turn.at + 1)] ?? Infinity;
    const next = extra[firstAtOrAfter(extra, pair.turn.at)];
    if (next !== undefined && next < until) return { outcome: "fragmented", lagMs };
    return { outcome: lagMs === null ? "unknown" : promptness(pair), lagMs };
  };
}

/** By the instant of the signal's turn: how much later it was than the turn of the reference that it is matched with. */
function lagsBehind(comparison: TurnComparison): ReadonlyMap<number, number> {
  return new Map(
    comparison.reference.flatMap((_, i) => {
      const pair = matchedPair(comparison, i);
      return pair === null ? [] : [[pair.matched.at, lagOf(pair)] as const];
    }),
  );
}

/** Late or early only if it was so wherever in its gap a bridged turn happened. */
function promptness({ turn, matched }: MatchedPair): "agreed" | "late" | "early" {
  if (matched.earliest - turn.at > LAG_TOLERANCE_MS) return "late";
  if (turn.earliest - matched.at > LAG_TOLERANCE_MS) return "early";
  return "agreed";
}

/** From what counts least to what counts most, when a door moved more than once in an episode. */
const severity: readonly ParticipantOutcome[] = ["unknown", "agreed", "early", "late", "fragmented", "missed"];

/**
 * One line for a signal and an episode: its response to the only movement of its subject, or the worst of several (a
 * door that opens and closes): missed, fragmented, late, early, agreed; unknown only if no movement could be judged.
 * Among equally bad ones the longest lag is shown.
 */
export function participant(signal: string, subject: string, responses: readonly Response[]): Participant {
  const worst = responses.toSorted(
    (a, b) => severity.indexOf(b.outcome) - severity.indexOf(a.outcome) || Math.abs(b.lagMs ?? 0) - Math.abs(a.lagMs ?? 0),
  )[0];
  const lagMs = worst?.lagMs ?? null;
  return { signal, subject, outcome: worst?.outcome ?? "unknown", lagSeconds: lagMs === null ? null : lagMs / 1000 };
}
