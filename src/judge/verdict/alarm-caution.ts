import type { RuleSpec } from "../../site/site.js";

/**
 * What must be said wherever a rule arms or disarms an alarm: common knowledge of the trade, no source.
 * Empty where no rule does.
 */
export function alarmCautions(rules: readonly RuleSpec[]): string[] {
  const named = rules.filter((rule) => rule.act === "arm" || rule.act === "disarm").map((rule) => `“${rule.name}”`);
  if (named.length === 0) return [];
  return [
    `${named.join(", ")} ${named.length === 1 ? "acts" : "act"} on an alarm. Standards, contracts and insurers may forbid setting or unsetting an alarm automatically, ` +
      "whatever this history shows: ask the installer and the insurer first.",
  ];
}
