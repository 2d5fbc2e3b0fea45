import type { Reference } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import { ON } from "../../timeline/timeline.js";
import { chargedStretches, judgedTurns } from "./charging.js";
import type { CompareSettings } from "./compare-settings.js";
import type { Phantom } from "./episode.js";

/**
 * A signal's phantoms in time order: stretches in which it contradicted `reference`, which must have been built without it,
 * and which no transition of that reference explains (see {@link chargedStretches}). "Outside all episodes" is thus read from
 * the leave-one-out reference: a false arrival that only this signal's own vote made into an episode stays a phantom.
 * Where only one other witness contradicts it, it is no phantom of either, but a disagreement of the two.
 */
export function phantomsOf(account: SignalAccount, reference: Reference, settings: CompareSettings): Phantom[] {
  return chargedStretches(account, reference, judgedTurns(account, reference, settings), settings)
    .filter((stretch) => stretch.sort === "phantom")
    .map(({ said, from, to }) => ({ signal: account.signal, subject: reference.subject, said: said === ON ? "on" : "off", from, to }));
}
