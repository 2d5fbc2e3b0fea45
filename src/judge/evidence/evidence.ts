import type { Act } from "../../site/site.js";
import type { Estimate } from "../../statistics/estimate.js";
import { actNouns, percentText } from "../rule/words.js";

/** The chance of at least one wrong firing within a year, 0..1. */
export interface YearlyChance {
  /** At the observed rate, unverified firings taken as right; null where nothing was seen. */
  readonly value: number | null;
  /** From the lower end of that rate's interval ... */
  readonly low: number | null;
  /** ... to the upper end of the rate with unverified firings taken as wrong. */
  readonly high: number | null;
  readonly text: string;
}

/** What a longer watch would take, should things go on as they did. */
export interface AtObservedRate {
  /** Further 30-day months until the limit is met; null without a limit, or where the observed rate itself does not meet it. Unverified firings taken as wrong. */
  readonly moreMonths: number | null;
  /** Further wanted instants until the missed limit is met; null likewise. */
  readonly moreWanted: number | null;
}

/** A chance above this is told as more than it: no history proves certainty. */
const NEARLY_SURE = 0.999;

/**
 * The chance that it goes wrong at least once within a year: 1 − exp(−λ), with wrong firings taken as a Poisson process
 * of constant rate λ (they come one by one and at random; what changes with the seasons is not in it).
 */
export function yearlyChance(act: Act, wrong: { readonly unverifiedAsRight: Estimate; readonly unverifiedAsWrong: Estimate }, confidence: number): YearlyChance {
  const chance = (rate: number | null): number | null => (rate === null ? null : -Math.expm1(-rate));
  const value = chance(wrong.unverifiedAsRight.value);
  const low = chance(wrong.unverifiedAsRight.low);
  const high = chance(wrong.unverifiedAsWrong.high);
  const noun = actNouns[act].one;
  if (value === null || low === null || high === null) return { value, low, high, text: `How likely a wrong ${noun} is within a year cannot be said: nothing was seen.` };
  const range = low > NEARLY_SURE ? `more than ${percentText(NEARLY_SURE)}` : low === 0 ? `up to ${percentText(high, "up")} is possible` : `between ${percentText(low, "down")} and ${percentText(high, "up")} is possible`;
  const text = `The chance of at least one wrong ${noun} within a year, if things go on as they did: ${inWords(high, low)} (${range} at ${percentText(confidence)} confidence).`;
  return { value, low, high, text };
}

/** A chance in words: what the bounds allow, not what one hopes. */
function inWords(high: number, low: number): string {
  if (low > 0.9) return "all but certain";
  if (low > 0.5) return "more likely than not";
  if (high < 0.01) return "less than one in a hundred";
  if (high < 0.1) return "less than one in ten";
  if (high < 0.5) return "less likely than not";
  return low > 0.1 ? "a real one" : "too little was seen to rule it out";
}
