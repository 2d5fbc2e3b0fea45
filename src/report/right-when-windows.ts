import { HOUR_SECONDS, HOURS_PER_DAY, MINUTE_SECONDS } from "../ground/units.js";
import type { RuleFinding } from "../result/rules.js";

const unitSeconds: Readonly<Record<string, number>> = { d: HOURS_PER_DAY * HOUR_SECONDS, h: HOUR_SECONDS, min: MINUTE_SECONDS, s: 1 };

/**
 * Whether a `right_when` ends before the rule's longest window and the largest measured lag of its sensors are over. The
 * road of design is closed then. Without a gap the lags are not known, and only the rule's own window is held against it.
 * Windows are read from the words of the condition and of `right_when`, which the findings keep as text.
 */
export function closesDesign({ condition, gap, design }: Pick<RuleFinding, "condition" | "gap" | "design">, rightWhen: string): boolean {
  const shortest = Math.min(...windowsIn(rightWhen));
  const lag = Math.max(0, ...(gap?.freeUntil ?? []).map(({ measuredSeconds }) => measuredSeconds));
  return design?.history != null && shortest < Math.max(0, ...windowsIn(condition)) + lag;
}

/** Every window in a text, in seconds: `within: 5 min`, `within 1 h 30 min`. */
function windowsIn(text: string): number[] {
  return [...text.matchAll(/\b(?:within|recently):? (?:the last )?((?:\d+(?:\.\d+)? ?(?:d|h|min|s)\b ?)+)/g)].map(([, length = ""]) =>
    [...length.matchAll(/(\d+(?:\.\d+)?) ?(d|h|min|s)\b/g)].reduce((seconds, [, amount, unit = ""]) => seconds + Number(amount) * (unitSeconds[unit] ?? 0), 0),
  );
}
