import type { Act, ActLimits } from "../site/site.js";
import type { Estimate } from "../statistics/estimate.js";
import { exposureNeeded } from "../statistics/evidence.js";
import { rateUpperBound } from "../statistics/rate.js";
import { shareUpperBound } from "../statistics/share.js";
import { actNouns, percentText } from "./words.js";

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

/** Months of 30 days: what is left to wait is told in them. */
const MONTHS_PER_YEAR = 365.25 / 30;
/** A century of years, or a hundred thousand arrivals: beyond, the honest answer is "never". Our own choice. */
const MOST_YEARS = 100;
const MOST_WANTED = 100_000;
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

/**
 * How much longer one must watch if faults go on at the observed rate: the length of time (and number of wanted instants)
 * at which the exact one-sided upper bound meets the limit, the faults to come rounded up. Our own choice; with
 * no fault so far it is the same as the watch without a further one.
 */
export function atObservedRate(faults: number, yearsSeen: number, missed: number, wanted: number, limits: ActLimits | null, confidence: number): AtObservedRate {
  if (limits === null) return { moreMonths: null, moreWanted: null };
  return { moreMonths: moreMonths(faults, yearsSeen, limits.wrongPerYear, confidence), moreWanted: moreWanted(missed, wanted, limits.missedShare, confidence) };
}

/**
 * Months of 30 days still to come without a further one until the exact one-sided upper bound meets the limit; 0 where it does already,
 * null without limits or where no time is enough.
 */
export function faultFreeMonths(count: number, yearsSeen: number, limits: ActLimits | null, confidence: number): number | null {
  if (limits === null) return null;
  const needed = exposureNeeded(count, limits.wrongPerYear, confidence);
  return Number.isFinite(needed) ? Math.max(0, needed - yearsSeen) * MONTHS_PER_YEAR : null;
}

function moreMonths(faults: number, yearsSeen: number, limit: number, confidence: number): number | null {
  if (yearsSeen === 0 || faults / yearsSeen >= limit) return null;
  if (rateUpperBound(faults, yearsSeen, confidence) <= limit) return 0;
  // With `count` faults in all, the bound is met once enough time has passed for that many, if no further one is due before.
  const rate = faults / yearsSeen;
  for (let count = faults; ; count += 1) {
    const years = Math.max(exposureNeeded(count, limit, confidence), yearsSeen);
    if (years > MOST_YEARS) return null;
    if (Math.ceil(rate * years - 1e-9) <= count) return (years - yearsSeen) * MONTHS_PER_YEAR;
  }
}

function moreWanted(missed: number, wanted: number, limit: number, confidence: number): number | null {
  const share = wanted === 0 ? 0 : missed / wanted;
  if (share >= limit) return null;
  const meets = (trials: number): boolean => shareUpperBound(Math.ceil(share * trials - 1e-9), trials, confidence) <= limit;
  if (wanted > 0 && meets(wanted)) return 0;
  let trials = wanted + 1;
  // Rounding up makes the bound saw-toothed: doubling finds where it holds, then one walks back down to the first.
  while (!meets(trials)) {
    trials *= 2;
    if (trials > MOST_WANTED) return null;
  }
  let tooFew = Math.max(wanted, Math.floor(trials / 2));
  while (trials - tooFew > 1) {
    const middle = Math.floor((tooFew + trials) / 2);
    if (meets(middle)) trials = middle;
    else tooFew = middle;
  }
  return trials - wanted;
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
