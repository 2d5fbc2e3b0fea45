import type { Reference } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import { OFF, ON } from "../timeline/timeline.js";
import { isCharged } from "./charging.js";
import type { CompareSettings } from "./compare-settings.js";
import { compareTurns } from "./compare-turns.js";
import type { Phantom } from "./episode.js";
import { falseStretches } from "./false-stretches.js";

/**
 * A signal's phantoms in time order: stretches in which it contradicted `reference`, which must have been built without it,
 * and which no transition of that reference explains (see {@link falseStretches}). "Outside all episodes" is thus read from
 * the leave-one-out reference: a false arrival that only this signal's own vote made into an episode stays a phantom.
 * Where only one other witness contradicts it, it is no phantom of either, but a disagreement of the two ({@link isCharged}).
 */
export function phantomsOf(account: SignalAccount, reference: Reference, settings: CompareSettings): Phantom[] {
  const comparisons = [compareTurns(account, reference.timeline, OFF, settings, reference.barriers), compareTurns(account, reference.timeline, ON, settings, reference.barriers)];
  return falseStretches(account, reference.timeline, comparisons, settings)
    .filter((stretch) => stretch.sort === "phantom" && isCharged(stretch, reference, settings.joinMs))
    .map(({ said, from, to }) => ({ signal: account.signal, subject: reference.subject, said: said === ON ? "on" : "off", from, to }));
}
