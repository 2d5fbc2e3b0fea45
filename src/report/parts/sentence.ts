import { capitalised } from "../../ground/first-letter.js";
import { heldTogether } from "../format.js";
import type { RuleFinding } from "../../result/rules.js";

/**
 * The verdict's sentence without the verdict, for places where that stands beside it: "Not proven yet: 20 unverified…"
 * becomes "20 unverified…". Begins with a capital unless that would change somebody's name.
 */
export function sentenceAfterVerdict({
  verdict,
  sentence,
  signals,
  singlePoints,
}: Pick<RuleFinding, "verdict" | "sentence" | "signals" | "singlePoints">): string {
  const opening = `${verdict}: `;
  if (sentence.slice(0, opening.length).toLowerCase() !== opening) return heldTogether(sentence);
  const rest = heldTogether(sentence.slice(opening.length));
  const names = [...signals, ...singlePoints.signals, ...singlePoints.causes];
  return names.some((name) => rest.startsWith(name)) ? rest : capitalised(rest);
}
