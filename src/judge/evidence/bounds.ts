import { sum } from "d3-array";
import { clumped, mostUneven, UNSEEN_CLUMP, type Clumped } from "../../statistics/clumps.js";
import { rateUpperAtEveryLook, shareUpperAtEveryLook, trialsNeededAtEveryLook } from "../../statistics/every-look.js";
import { rateLowerBound } from "../../statistics/rate.js";
import { shareLowerBound } from "../../statistics/share.js";

/** What a verdict is worked out from: counts and exposure, which add up over periods. */
export interface RuleCounted {
  /** Verified wrong firings, by the occasions they came in. */
  readonly wrongOccasions: readonly number[];
  readonly unverifiedFirings: number;
  /** Years during which every way of firing could be heard. */
  readonly yearsSeen: number;
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
  /** Wrong firings a year, unverified taken as wrong: at most this. Infinity when nothing was seen. */
  readonly wrongUpper: number;
  /** Wrong firings a year, unverified taken as right: at least this. */
  readonly wrongLower: number;
  /** Share of wanted instants missed or late, unverified taken as missed: at most this. */
  readonly missedUpper: number;
  /** The same, unverified taken as served: at least this. */
  readonly missedLower: number;
}

/** {@link VerdictBounds} of what was counted. */
export function boundsOf(counted: RuleCounted, confidence: number): VerdictBounds {
  const own = shared(confidence, counted.variants);
  const wrong = doubtfulFirings(counted, true);
  const failed = doubtfulWanted(counted);
  const [seenWrong, seenFailed] = [clumpedAsSeen(counted.wrongOccasions), clumpedAsSeen(counted.failureRuns)];
  const trials = counted.wanted / failed.factor;
  return {
    wrongUpper: wrong.factor * rateUpperAtEveryLook(wrong.count, counted.yearsSeen, own),
    wrongLower: seenWrong.factor * rateLowerBound(seenWrong.count, counted.yearsSeen, confidence),
    missedUpper: failed.count > trials ? 1 : shareUpperAtEveryLook(failed.count, trials, own),
    missedLower: shareLowerBound(Math.min(seenFailed.count, counted.wanted / seenFailed.factor), counted.wanted / seenFailed.factor, confidence),
  };
}

/**
 * Further years without a wrong firing until the upper bound meets the limit; unverified firings taken as wrong or as
 * right.
 */
export function yearsStillNeeded(counted: RuleCounted, limit: number, confidence: number, unverifiedAsWrong: boolean): number {
  const { count, factor } = doubtfulFirings(counted, unverifiedAsWrong);
  const needed = (factor * rateUpperAtEveryLook(count, 1, shared(confidence, counted.variants))) / limit;
  return Math.max(0, needed - counted.yearsSeen);
}

/**
 * Further wanted instants, all verified and served in time, until the upper bound meets the limit; null when no number
 * is enough.
 */
export function wantedStillNeeded(counted: RuleCounted, limit: number, confidence: number): number | null {
  const { count, factor } = doubtfulWanted(counted);
  const trials = Math.max(counted.wanted / factor, count);
  const more = trialsNeededAtEveryLook(count, trials, limit, shared(confidence, counted.variants));
  return more === null ? null : Math.ceil((trials + more) * factor - 1e-9) - counted.wanted;
}

/**
 * Further years until then if wrong and unverified firings keep their rate; null where that takes more than a century.
 */
export function yearsAtThisRate(counted: RuleCounted, limit: number, confidence: number): number | null {
  const { count, factor } = doubtfulFirings(counted, true);
  const { yearsSeen } = counted;
  const own = shared(confidence, counted.variants);
  return firstEnough(yearsSeen, MOST_YEARS, (years) => factor * rateUpperAtEveryLook((count * years) / yearsSeen, years, own) <= limit);
}

/**
 * Further wanted instants until then if failures keep their share; null where that takes more than {@link MOST_WANTED}.
 */
export function wantedAtThisRate(counted: RuleCounted, limit: number, confidence: number): number | null {
  const { count, factor } = doubtfulWanted(counted);
  const own = shared(confidence, counted.variants);
  const share = counted.wanted === 0 ? 0 : count / counted.wanted;
  const more = firstEnough(Math.max(1, counted.wanted), MOST_WANTED, (wanted) => {
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

function doubtfulFirings(counted: RuleCounted, unverifiedAsWrong: boolean): Clumped {
  const unverified = unverifiedAsWrong ? singles(counted.unverifiedFirings) : [];
  return clumped([...counted.wrongOccasions, ...unverified], largestToCome(counted, counted.wrongOccasions));
}

function doubtfulWanted(counted: RuleCounted): Clumped {
  return clumped([...counted.failureRuns, ...singles(counted.unverifiedWanted)], largestToCome(counted, counted.failureRuns));
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
