import { NOT_SCORED, type SignalScore } from "../scoring/signals.js";

/** A signal that could not be scored also leaves gaps in what is told of its subject; that must not look like a clean record. */
export function failureNotes(signals: readonly Pick<SignalScore, "signal" | "subject" | "agreement">[]): string[] {
  return signals
    .filter(({ agreement }) => agreement.why?.startsWith(NOT_SCORED) === true)
    .map(({ signal, subject, agreement }) => `${signal}: ${agreement.why ?? NOT_SCORED}. Episodes, phantoms, disagreements and changes of ${subject} are incomplete. This is a fault of the program; please report it.`);
}
