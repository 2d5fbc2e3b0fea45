import { durationText } from "../../ground/duration.js";
import type { Culprit } from "../../result/culprit.js";
import type { RuleOverHistory } from "../replay/replay.js";
import type { WantedOutcome } from "../replay/wanted-outcomes.js";
import { culpritOf, nobody } from "./culprit.js";
import type { ReadText } from "./words.js";

/** What a wanted instant that was late or missed came down to; null for one that was served. */
export function unservedCulprit({ outcome, at, restedAfter, stretch }: WantedOutcome, rule: RuleOverHistory, read: ReadText): Culprit | null {
  if (outcome === "served") return null;
  if (restedAfter !== null) return nobody("at rest", `The rule was resting: it had fired ${durationText(at - restedAfter)} before.`);
  return culpritOf(stretch, rule, read);
}
