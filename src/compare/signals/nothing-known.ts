import { expressionRefs } from "../../site/expression-refs.js";
import type { Site } from "../../site/site.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import type { Histories } from "../../result/histories.js";
import { stepsOf } from "../../result/history-steps.js";
import type { SignalScore } from "../../result/signals.js";

/**
 * A note on every subject of which nothing is known all through the period, by its reference with every witness: why,
 * and what is missing because of it. Otherwise the missing figures would look like a clean record.
 */
export function nothingKnownNotes(
  site: Pick<Site, "subjects" | "signals" | "rules">,
  histories: Pick<Histories, "subjects">,
  scores: readonly Pick<SignalScore, "signal" | "knownShare">[],
): string[] {
  const spoke = new Set(scores.filter(({ knownShare }) => knownShare > 0).map(({ signal }) => signal));
  return histories.subjects
    .filter(({ steps }) => stepsOf(steps, 0).every(({ state }) => state === UNKNOWN))
    .map(({ subject }) => {
      const signals = site.signals.filter((signal) => signal.subject === subject).map(({ id }) => id);
      const missing = `${signals.length === 0 ? "" : `${signals.length === 1 ? "its signal could" : "its signals could"} not be judged, and `}no visit, false report or missed change could be found`;
      return `Nothing is known of ${subject} at any time: ${whyText(
        signals,
        signals.some((id) => spoke.has(id)),
      )}, and the diary does not say. So ${missing}; that does not mean there was none.${rulesText(site, subject)}`;
    });
}

function whyText(signals: readonly string[], anySpoke: boolean): string {
  if (signals.length === 0) return "no signal watches it";
  const named = signals.length === 1 ? `its only signal, ${signals[0]},` : `its signals ${signals.join(", ")}`;
  if (anySpoke) return `what ${named} said settles nothing`;
  return `${named} ${signals.length === 1 ? "was" : "were"} unknown throughout`;
}

/** Rules that are right or wrong by the state of the subject. */
function rulesText(site: Pick<Site, "rules">, subject: string): string {
  const names = site.rules.filter(({ rightWhen }) => expressionRefs(rightWhen).includes(subject)).map(({ name }) => `“${name}”`);
  return names.length === 0 ? "" : ` Where it decides whether ${names.join(" or ")} was right, nobody can tell.`;
}
