import type { Act, ActLimits } from "../site/site.js";
import type { Estimate } from "../statistics/estimate.js";
import { trialsNeeded } from "../statistics/evidence.js";
import { quantileEstimate } from "../statistics/quantile.js";
import { rateEstimate, rateLowerBound, rateUpperBound } from "../statistics/rate.js";
import { shareEstimate, shareLowerBound, shareUpperBound } from "../statistics/share.js";
import type { Interval } from "../timeline/timeline.js";
import { atObservedRate, yearlyChance } from "./evidence.js";
import { faultFreeMonths } from "./evidence.js";
import type { RuleJudgement } from "./judgement.js";
import type { FiringJudgement } from "./outcomes.js";
import type { WantedOutcome } from "./wanted.js";

const DAY_MS = 86_400_000;
/** A year of 365.25 days. */
export const YEAR_MS = 365.25 * DAY_MS;

/** A rule's figures, as they stand in its judgement. */
export type RuleFigures = Pick<RuleJudgement, "firings" | "wanted" | "wrongPerYear" | "missedShare" | "delay" | "evidence">;

/**
 * Counts, rates, shares and delays of a rule.
 * Rates are per year of the time *during which the condition was known*: history in which the rule was blind proves nothing
 * about it, so it is not counted as time without a wrong firing. Late wanted instants are not missed ones.
 */
export function ruleFigures(
  firings: readonly FiringJudgement[],
  wanted: readonly WantedOutcome[],
  blindMs: number,
  period: Interval,
  limits: ActLimits | null,
  confidence: number,
  act: Act,
): RuleFigures {
  const outcomes = (outcome: FiringJudgement["outcome"]): number => firings.filter((one) => one.outcome === outcome).length;
  const counted = (outcome: WantedOutcome["outcome"], list = wanted): number => list.filter((one) => one.outcome === outcome).length;
  const verified = wanted.filter((one) => one.verified);
  const counts = { count: firings.length, right: outcomes("right"), wrong: outcomes("wrong"), unverified: outcomes("unverified") };
  const missed = counted("missed");
  const periodMs = period.to - period.from;
  const yearsSeen = (periodMs - blindMs) / YEAR_MS;
  const delays = wanted.flatMap((one) => (one.delaySeconds === null ? [] : [one.delaySeconds]));
  const perYear = (count: number): Estimate => rateEstimate(count, yearsSeen, confidence, "per year");
  const moreMonths = (count: number): number | null => faultFreeMonths(count, yearsSeen, limits, confidence);
  const wrongPerYear = { unverifiedAsRight: perYear(counts.wrong), unverifiedAsWrong: perYear(counts.wrong + counts.unverified), limit: limits?.wrongPerYear ?? null };
  return {
    firings: counts,
    wanted: { count: wanted.length, served: counted("served"), late: counted("late"), missed, verified: verified.length },
    wrongPerYear,
    missedShare: {
      all: shareEstimate(missed, wanted.length, confidence),
      verifiedOnly: shareEstimate(counted("missed", verified), verified.length, confidence),
      limit: limits?.missedShare ?? null,
    },
    delay: { median: quantileEstimate(delays, 0.5, confidence, "seconds"), p90: quantileEstimate(delays, 0.9, confidence, "seconds") },
    evidence: {
      yearsSeen,
      blindShare: blindMs / periodMs,
      moreMonthsIfUnverifiedWrong: moreMonths(counts.wrong + counts.unverified),
      moreMonthsIfUnverifiedRight: moreMonths(counts.wrong),
      moreWantedServed: limits === null ? null : trialsNeeded(missed, wanted.length, limits.missedShare, confidence),
      atObservedRate: atObservedRate(counts.wrong + counts.unverified, yearsSeen, missed, wanted.length, limits, confidence),
      chanceWithinYear: yearlyChance(act, wrongPerYear, confidence),
    },
  };
}

/** The one-sided bounds a verdict rests on, each at the site's confidence. */
export interface VerdictBounds {
  /** Wrong firings a year, unverified taken as wrong: at most this. Infinity when nothing was seen. */
  readonly wrongUpper: number;
  /** Wrong firings a year, unverified taken as right: at least this. */
  readonly wrongLower: number;
  readonly missedUpper: number;
  readonly missedLower: number;
}

/** The bounds of a rule's figures. Unverified firings count against the rule in the upper bound and for it in the lower one. */
export function verdictBounds(figures: RuleFigures, confidence: number): VerdictBounds {
  const { firings, wanted, evidence } = figures;
  return {
    wrongUpper: rateUpperBound(firings.wrong + firings.unverified, evidence.yearsSeen, confidence),
    wrongLower: rateLowerBound(firings.wrong, evidence.yearsSeen, confidence),
    missedUpper: shareUpperBound(wanted.missed, wanted.count, confidence),
    missedLower: shareLowerBound(wanted.missed, wanted.count, confidence),
  };
}
