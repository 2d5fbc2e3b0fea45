import type { Act, ActLimits } from "../../site/site.js";
import type { Estimate } from "../../statistics/estimate.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";
import { durations } from "../../timeline/durations.js";
import type { Timeline } from "../../timeline/timeline.js";
import { boundsOf, wantedStillNeeded, yearsAtThisRate, wantedAtThisRate, yearsStillNeeded, type RuleCounted, type VerdictBounds } from "./bounds.js";
import { yearlyChance } from "./evidence.js";
import type { Covers, RuleJudgement } from "../judgement.js";
import { failureRuns, occasionSizes } from "./occasions.js";
import type { FiringJudgement } from "../replay/outcomes.js";
import type { Seen } from "./seen.js";
import type { WantedOutcome } from "../replay/wanted.js";
import { MONTHS_PER_YEAR, YEAR_MS } from "../../ground/units.js";


/** A rule's figures, as they stand in its judgement. */
export type RuleFigures = Pick<RuleJudgement, "firings" | "wanted" | "wrongPerYear" | "missedShare" | "bounds" | "delay" | "evidence">;

/** What figures are made from, as far as it adds up over periods. */
export interface Tally {
  readonly firings: RuleJudgement["firings"];
  readonly wanted: RuleJudgement["wanted"];
  readonly yearsSeen: number;
  readonly blindShare: number;
  readonly unclearShare: number;
  readonly covers: Covers;
}

/** Counts of one period. `verifiedTruth`: where acting is known to have been right or wrong, by the diary or two witnesses outside the rule. */
export function tallyOf(firings: readonly FiringJudgement[], wanted: readonly WantedOutcome[], seen: Seen, verifiedTruth: Timeline, variants: number): Tally {
  const outcomes = (outcome: FiringJudgement["outcome"]): number => firings.filter((one) => one.outcome === outcome).length;
  const counted = (outcome: WantedOutcome["outcome"]): number => wanted.filter((one) => one.outcome === outcome).length;
  const verified = wanted.filter((one) => one.verified);
  const failed = verified.map((one) => one.outcome !== "served");
  const periodMs = verifiedTruth.end - verifiedTruth.start;
  return {
    firings: { count: firings.length, right: outcomes("right"), wrong: outcomes("wrong"), unverified: outcomes("unverified") },
    wanted: {
      count: wanted.length,
      served: counted("served"),
      late: counted("late"),
      missed: counted("missed"),
      verified: verified.length,
      verifiedFailed: failed.filter(Boolean).length,
    },
    yearsSeen: seen.ms / YEAR_MS,
    blindShare: 1 - seen.ms / periodMs,
    unclearShare: durations(verifiedTruth).unknownMs / periodMs,
    covers: {
      days: seen.days,
      months: seen.months,
      weekdays: seen.weekdays,
      wrongOccasions: occasionSizes(firings.filter((one) => one.outcome === "wrong").map((one) => one.at)),
      failureRuns: failureRuns(failed),
      faultsByDay: seen.eventsByDay,
      variants,
    },
  };
}

/**
 * Counts, rates, shares and delays of a rule. Rates are per year of the time *during which every way of firing could be
 * heard*: history in which the rule was deaf proves nothing about it. A wanted instant served late counts like one that was missed.
 * `delays` are seconds.
 */
export function ruleFigures(tally: Tally, delays: readonly number[], limits: ActLimits | null, confidence: number, act: Act): RuleFigures {
  const { firings, wanted, yearsSeen, blindShare, unclearShare, covers } = tally;
  const counted = countedOf(tally);
  const bounds = boundsOf(counted, confidence);
  const perYear = (count: number): Estimate => rateEstimate(count, yearsSeen, confidence, "per year");
  const wrongPerYear = { unverifiedAsRight: perYear(firings.wrong), unverifiedAsWrong: perYear(firings.wrong + firings.unverified), limit: limits?.wrongPerYear ?? null };
  const unverifiedWanted = wanted.count - wanted.verified;
  const months = (unverifiedAsWrong: boolean): number | null =>
    limits === null ? null : monthsOrNull(yearsStillNeeded(counted, limits.wrongPerYear, confidence, unverifiedAsWrong));
  return {
    firings,
    wanted,
    wrongPerYear,
    missedShare: {
      unverifiedAsServed: shareEstimate(wanted.verifiedFailed, wanted.count, confidence),
      unverifiedAsMissed: shareEstimate(wanted.verifiedFailed + unverifiedWanted, wanted.count, confidence),
      limit: limits?.missedShare ?? null,
    },
    bounds: { ...bounds, wrongUpper: Number.isFinite(bounds.wrongUpper) ? bounds.wrongUpper : null },
    delay: { median: quantileEstimate(delays, 0.5, confidence, "seconds"), p90: quantileEstimate(delays, 0.9, confidence, "seconds") },
    evidence: {
      yearsSeen,
      blindShare,
      unclearShare,
      moreMonthsIfUnverifiedWrong: months(true),
      moreMonthsIfUnverifiedRight: months(false),
      moreWantedServed: limits === null ? null : wantedStillNeeded(counted, limits.missedShare, confidence),
      atObservedRate: {
        moreMonths: limits === null ? null : monthsOrNull(yearsAtThisRate(counted, limits.wrongPerYear, confidence)),
        moreWanted: limits === null ? null : wantedAtThisRate(counted, limits.missedShare, confidence),
      },
      chanceWithinYear: yearlyChance(act, wrongPerYear, confidence),
      covers,
    },
  };
}

/** The one-sided bounds of a rule's figures, worked out anew: see {@link boundsOf}. */
export function verdictBounds(figures: RuleFigures, confidence: number): VerdictBounds {
  return boundsOf(countedOf({ ...figures, ...figures.evidence }), confidence);
}

function countedOf({ firings, wanted, yearsSeen, covers }: Pick<Tally, "firings" | "wanted" | "yearsSeen" | "covers">): RuleCounted {
  return {
    wrongOccasions: covers.wrongOccasions,
    unverifiedFirings: firings.unverified,
    yearsSeen,
    failureRuns: covers.failureRuns,
    wanted: wanted.count,
    unverifiedWanted: wanted.count - wanted.verified,
    faultsByDay: covers.faultsByDay,
    daysSeen: covers.days,
    variants: covers.variants,
  };
}

function monthsOrNull(years: number | null): number | null {
  return years === null || !Number.isFinite(years) ? null : years * MONTHS_PER_YEAR;
}
