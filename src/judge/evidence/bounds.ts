import { sum } from "d3-array";
import { clumped, mostUneven, UNSEEN_CLUMP, type Clumped } from "../../statistics/clumps.js";
import { keepsWithin, largestAllowed, shareUpperAtEveryLook, trialsNeededAtEveryLook } from "../../statistics/every-look.js";
import { rateLowerBound } from "../../statistics/rate.js";
import { poissonTail } from "../../statistics/tails.js";
import { shareLowerBound } from "../../statistics/share.js";
import type { Checked } from "./checked.js";
import { checkedOnly, confirmedOnly, firingEvidence, type FiringsCounted } from "./firing-evidence.js";

/** What a verdict is worked out from: counts and exposure, which add up over periods. */
export interface RuleCounted {
  /** Verified wrong firings, by the occasions they came in. */
  readonly wrongOccasions: readonly number[];
  readonly unverifiedFirings: number;
  /** All firings of those years, and how far they are checked in random order. */
  readonly checked: readonly Checked[];
  /** Years during which every way of firing could be heard. */
  readonly yearsSeen: number;
  /** Years over which a firing at any hour of the day would have been confirmed: see `coveredYears`. */
  readonly yearsConfirmed: number;
  /** Firings and wanted instants that nobody could be expected to confirm. */
  readonly expectedUnverified: { readonly firings: number; readonly wanted: number };
  /** Verified wanted instants that were missed or late, by the runs they came in. */
  readonly failureRuns: readonly number[];
  readonly wanted: number;
  readonly unverifiedWanted: number;
  /** Faults seen in the rule and its signals, by day, of the days that had any; and how many days were seen. */
  readonly faultsByDay: readonly number[];
  readonly daysSeen: number;
  /**
   * How many variants were tried on the same history, this one included: each gets only its share of the permitted
   * error.
   */
  readonly variants: number;
}

/**
 * The one-sided bounds a verdict rests on, with clumped faults counted as fewer. Upper bounds hold at every look and
 * for the best of all variants tried: looking often clears no rule. Lower bounds are for a single look: to refuse a
 * rule once too often does no harm, and a later month may clear it.
 */
export interface VerdictBounds {
  /**
   * Wrong firings a year, by both ways of counting together: at most this. Infinity when an hour of the day was never covered and too
   * many firings are unverified.
   */
  readonly wrongUpper: number;
  /** Wrong firings a year, unverified taken as right: at least this. */
  readonly wrongLower: number;
  /** Share of confirmed wanted instants missed or late: at most this. */
  readonly missedUpper: number;
  /** The same, unverified taken as served: at least this. */
  readonly missedLower: number;
}

/** {@link VerdictBounds} of what was counted. */
export function boundsOf(counted: RuleCounted, confidence: number): VerdictBounds {
  const own = shared(confidence, counted.variants);
  const failed = doubtfulWanted(counted);
  const [seenWrong, seenFailed] = [clumpedAsSeen(counted.wrongOccasions), clumpedAsSeen(counted.failureRuns)];
  const trials = judgedWanted(counted) / failed.factor;
  return {
    wrongUpper: wrongUpperAfter(counted, 1, confidence),
    wrongLower: seenWrong.factor * rateLowerBound(seenWrong.count, counted.yearsSeen, confidence),
    missedUpper: failed.count > trials ? 1 : shareUpperAtEveryLook(failed.count, trials, own),
    missedLower: shareLowerBound(Math.min(seenFailed.count, counted.wanted / seenFailed.factor), counted.wanted / seenFailed.factor, confidence),
  };
}

/**
 * Unverified events that chance explains this rarely are not left out: whether somebody could tell went with what
 * happened. Our own choice.
 */
const CHOSEN_CHANCE = 0.01;

/**
 * Unverified firings that must be taken as wrong, and wanted instants that must be taken as missed: none, as long as
 * they are no more than the hours in which nobody could tell explain.
 */
export function takenAsWrong({ unverifiedFirings, expectedUnverified }: RuleCounted): number {
  return chosen(unverifiedFirings, expectedUnverified.firings) ? unverifiedFirings : 0;
}

function takenAsMissed({ unverifiedWanted, expectedUnverified }: RuleCounted): number {
  return chosen(unverifiedWanted, expectedUnverified.wanted) ? unverifiedWanted : 0;
}

function chosen(unverified: number, expected: number): boolean {
  return poissonTail(unverified, expected) < CHOSEN_CHANCE;
}

/** Wanted instants that count: the confirmed ones, and those taken as missed. */
function judgedWanted(counted: RuleCounted): number {
  return counted.wanted - counted.unverifiedWanted + takenAsMissed(counted);
}

/** Further years without a wrong firing, confirmed like these, until the upper bound meets the limit; null where that takes more than a century. */
export function yearsStillNeeded(counted: RuleCounted, limit: number, confidence: number): number | null {
  const own = shared(confidence, counted.variants);
  const evidence = firingEvidence(firingsCounted(counted));
  return firstEnough(counted.yearsSeen, MOST_YEARS, (years) => keepsWithin((rate) => evidence(rate, { years: years / counted.yearsSeen }), limit, own));
}

/** Whether all firings being checked, or a random draw of them, shows by itself that wrong ones stay within the limit. */
export function checkedWithin(counted: RuleCounted, limit: number, confidence: number): boolean {
  return keepsWithin(checkedOnly(firingsCounted(counted)), limit, shared(confidence, counted.variants));
}

const ROUNDING = 1e-9;

/** Whether having checked firings speaks more against a rate than the time in which any would have been confirmed. */
export function showsMoreByFirings(counted: RuleCounted, rate: number): boolean {
  const firings = firingsCounted(counted);
  return checkedOnly(firings)(rate) > confirmedOnly(firings)(rate) + ROUNDING;
}

function firingsCounted(counted: RuleCounted): FiringsCounted {
  const { yearsSeen, yearsConfirmed, wrongOccasions, checked } = counted;
  return {
    confirmed: { ...doubtfulFirings(counted), years: yearsConfirmed },
    heard: { years: yearsSeen, wrongOccasions, checked },
    unseenClump: largestToCome(counted, wrongOccasions),
  };
}

/**
 * Further wanted instants, all verified and served in time, until the upper bound meets the limit; null when no number
 * is enough.
 */
export function wantedStillNeeded(counted: RuleCounted, limit: number, confidence: number): number | null {
  const { count, factor } = doubtfulWanted(counted);
  const wanted = judgedWanted(counted);
  const trials = Math.max(wanted / factor, count);
  const more = trialsNeededAtEveryLook(count, trials, limit, shared(confidence, counted.variants));
  return more === null ? null : Math.ceil((trials + more) * factor - 1e-9) - wanted;
}

/** The upper bound of wrong firings a year if the same goes on for `times` as long: rates and cover stay as they are. */
export function wrongUpperAfter(counted: RuleCounted, times: number, confidence: number): number {
  const evidence = firingEvidence(firingsCounted(counted));
  return largestAllowed((rate) => evidence(rate, { same: times }), shared(confidence, counted.variants));
}

/** Further years until then if wrong firings keep their rate; null where that takes more than a century. */
export function yearsAtThisRate(counted: RuleCounted, limit: number, confidence: number): number | null {
  const own = shared(confidence, counted.variants);
  const evidence = firingEvidence(firingsCounted(counted));
  return firstEnough(counted.yearsSeen, MOST_YEARS, (years) => keepsWithin((rate) => evidence(rate, { same: years / counted.yearsSeen }), limit, own));
}

/**
 * Further wanted instants until then if failures keep their share; null where that takes more than {@link MOST_WANTED}.
 */
export function wantedAtThisRate(counted: RuleCounted, limit: number, confidence: number): number | null {
  const { count, factor } = doubtfulWanted(counted);
  const own = shared(confidence, counted.variants);
  const judged = judgedWanted(counted);
  const share = judged === 0 ? 0 : count / judged;
  const more = firstEnough(Math.max(1, judged), MOST_WANTED, (wanted) => {
    const [failures, trials] = [share * wanted, wanted / factor];
    return failures <= trials && shareUpperAtEveryLook(failures, trials, own) <= limit;
  });
  return more === null ? null : Math.ceil(more);
}

/** A century of years, or a hundred thousand arrivals: beyond, the honest answer is "never". Our own choice. */
const MOST_YEARS = 100;
/** See {@link MOST_YEARS}. */
const MOST_WANTED = 100_000;

/**
 * How much beyond `now` the condition first holds; null when it does not up to about `most`. Once it holds it stays
 * true.
 */
function firstEnough(now: number, most: number, holds: (amount: number) => boolean): number | null {
  if (now === 0) return null;
  if (holds(now)) return 0;
  let [low, high] = [now, now];
  while (!holds(high)) {
    [low, high] = [high, high * 2];
    if (low > most) return null;
  }
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high - now;
}

/**
 * The confidence of one of several variants, so that the best of them is still right with the confidence asked for
 * (Bonferroni).
 */
function shared(confidence: number, variants: number): number {
  return 1 - (1 - confidence) / variants;
}

function doubtfulFirings(counted: RuleCounted): Clumped {
  return clumped([...counted.wrongOccasions, ...singles(takenAsWrong(counted))], largestToCome(counted, counted.wrongOccasions));
}

function doubtfulWanted(counted: RuleCounted): Clumped {
  return clumped([...counted.failureRuns, ...singles(takenAsMissed(counted))], largestToCome(counted, counted.failureRuns));
}

/** Unverified events are most likely ordinary comings and goings, each independent of the others. */
function singles(count: number): number[] {
  return new Array<number>(count).fill(1);
}

/**
 * The largest size the next clump may have: at least the largest seen, and at least what daily faults show, or
 * {@link UNSEEN_CLUMP} where too few faults were seen to tell.
 */
function largestToCome({ faultsByDay, daysSeen }: RuleCounted, sizes: readonly number[]): number {
  const quiet = new Array<number>(Math.max(0, daysSeen - faultsByDay.length)).fill(0);
  return Math.max(mostUneven([...faultsByDay, ...quiet]) ?? UNSEEN_CLUMP, ...sizes);
}

/** For lower bounds only what was seen counts: the clumps as fewer independent events of their mean size. */
function clumpedAsSeen(sizes: readonly number[]): Clumped {
  const total = sum(sizes);
  const squares = sum(sizes, (size) => size * size);
  return total === 0 ? { count: 0, factor: 1 } : { count: (total * total) / squares, factor: squares / total };
}
