import { durationText } from "../../ground/duration.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Site } from "../../site/site.js";
import type { Estimate } from "../../result/estimate.js";
import type { StrainedRule } from "../../result/witnesses.js";

/**
 * An offset may take up to this share of a window. Our own choice: half of a window is then left for what it was
 * chosen for (lags of sensors, a walk from the vehicle to the door).
 */
const BEARABLE_SHARE = 0.5;

/**
 * The rules that use signals of both sources, if the offset takes more than {@link BEARABLE_SHARE} of their shortest
 * window.
 */
export function strainedRules(site: Site, first: string, second: string, offset: Estimate): StrainedRule[] {
  if (offset.value === null) return [];
  const offsetSeconds = Math.max(...[offset.low, offset.value, offset.high].map((each) => Math.abs(each ?? 0)));
  const sourceOf = new Map(site.signals.map((signal) => [signal.id, signal.source]));
  return site.rules.flatMap((rule) => {
    const sources = expressionRefs(rule.when).map((ref) => sourceOf.get(ref));
    if (!sources.includes(first) || !sources.includes(second)) return [];
    const windowMs = Math.min(...windowsOf(rule.when, (ref) => sourceOf.get(ref) === first || sourceOf.get(ref) === second));
    if (!Number.isFinite(windowMs) || offsetSeconds * 1000 <= BEARABLE_SHARE * windowMs) return [];
    const windowSeconds = windowMs / 1000;
    const text = `The clocks of ${first} and ${second} may be ${durationText(Math.round(offsetSeconds) * 1000)} apart; the shortest window of this rule, ${durationText(windowMs)}, copes with about half of its own length.`;
    return [{ rule: rule.name, windowSeconds, offsetSeconds, text }];
  });
}

/** Every window of positive length on a chosen signal, milliseconds. */
function windowsOf(expression: Expression, chosen: (ref: string) => boolean): number[] {
  switch (expression.op) {
    case "all":
    case "any":
    case "atLeast":
      return expression.of.flatMap((part) => windowsOf(part, chosen));
    case "not":
      return windowsOf(expression.of, chosen);
    case "is":
      return chosen(expression.ref) ? [expression.heldMs ?? 0, expression.recentlyMs ?? 0].filter((each) => each > 0) : [];
    case "turned":
      return chosen(expression.ref) && expression.withinMs > 0 ? [expression.withinMs] : [];
  }
}

/** A correction as the site file takes it: whole seconds with their sign, or `0s`. */
export function correctionText(seconds: number): string {
  return `${seconds}s`;
}
