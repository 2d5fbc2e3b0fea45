import type { Reference } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { chargedTurns, chargingTimeline } from "./charging.js";
import { type CompareSettings, compareTurns, lagOfReferenceTurn, type TurnComparison } from "./compare-turns.js";
import type { Participant, ParticipantOutcome } from "./episode.js";
import { LAG_TOLERANCE_MS } from "./episode.js";
import type { Movement } from "./link.js";
import { firstAtOrAfter } from "../../ground/search.js";

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
 * is wrong: unknown.
 */
export function responsesOf(account: SignalAccount, reference: Reference, settings: CompareSettings): ResponseTo {
  const comparisons = [
    compareTurns(account, reference.timeline, OFF, settings, reference.barriers),
    compareTurns(account, reference.timeline, ON, settings, reference.barriers),
  ] as const;
  const charging = chargingTimeline(reference);
  const charged = comparisons.map((one) => chargedTurns(one, reference));
  // Until its extra turn the signal said the opposite: it is charged only if somebody knew better then.
  const unmatched = comparisons.map((one) =>
    one.signal
      .filter(
        (turn, i) =>
          one.matches.ofSignal[i] === -1 &&
          stateAt(charging, turn.earliest - 1) === one.to &&
          stateAt(reference.timeline, turn.at) === one.to,
      )
      .map((turn) => turn.at),
  );
  const starts = comparisons.map((one) => one.reference.map((turn) => turn.at));
  const transitions = starts.flat().sort((a, b) => a - b);

  return ({ to, index }) => {
    const comparison = comparisons[to];
    const lagMs = lagOfReferenceTurn(comparison, index);
    if (lagMs === null)
      return { outcome: comparison.watched[index] === true && charged[to]![index] === true ? "missed" : "unknown", lagMs: null };
    const from = starts[to]![index]!;
    const until = transitions[firstAtOrAfter(transitions, from + 1)] ?? Infinity;
    const extra = unmatched[to]![firstAtOrAfter(unmatched[to]!, from)];
    if (extra !== undefined && extra < until) return { outcome: "fragmented", lagMs };
    return { outcome: promptness(comparison, index), lagMs };
  };
}

/** Late or early only if it was so wherever in its gap a bridged turn happened. */
function promptness(comparison: TurnComparison, index: number): "agreed" | "late" | "early" {
  const turn = comparison.reference[index]!;
  const matched = comparison.signal[comparison.matches.ofReference[index]!]!;
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
