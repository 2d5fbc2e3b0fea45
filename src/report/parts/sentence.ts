import { capitalised } from "../../ground/first-letter.js";
import { heldTogether } from "../format.js";
import type { RuleFinding } from "../../result/rules.js";

/**
 * The verdict's sentence without the verdict, for places where that stands beside it: "Not proven yet: 20 unverified…"
 * becomes "20 unverified…", "Clear to enable by design: …" becomes "By design: …". Begins with a capital unless that would change somebody's name.
 */
export function sentenceAfterVerdict({
  verdict,
  sentence,
  signals,
  singlePoints,
}: Pick<RuleFinding, "verdict" | "sentence" | "signals" | "singlePoints">): string {
  const opening = [`${verdict}: `, `${verdict} `].find((one) => sentence.slice(0, one.length).toLowerCase() === one);
  if (opening === undefined) return heldTogether(sentence);
  const rest = heldTogether(sentence.slice(opening.length));
  const names = [...signals, ...singlePoints.signals, ...singlePoints.causes];
  return names.some((name) => rest.startsWith(name)) ? rest : capitalised(rest);
}

/**
 * Of the sentence of {@link sentenceAfterVerdict} what a reader needs first: of a clear rule its bounds. What they rest on and how long they hold stands
 * with its reasons, in full.
 */
export function leadText(rule: RuleFinding): string {
  const whole = sentenceAfterVerdict(rule);
  return rule.verdict === "clear to enable" ? (/^.*?\.(?= )/.exec(whole)?.[0] ?? whole) : whole;
}
