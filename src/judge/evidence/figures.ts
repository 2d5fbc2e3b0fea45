import { certaintyText } from "../../ground/certainty.js";
import type { Act } from "../../site/site.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";
import { sum } from "d3-array";
import { intersection, totalMs } from "../../ground/intervals.js";
import { HOUR_MS, MONTHS_PER_YEAR, YEAR_MS } from "../../ground/units.js";
import { durations } from "../../timeline/durations.js";
import { stretches } from "../../timeline/stretches.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { FiringJudgement } from "../replay/firing-outcomes.js";
import type { RuleOverHistory } from "../replay/replay.js";
import type { WantedOutcome } from "../replay/wanted-outcomes.js";
import type { Standard } from "../rule/prepare.js";
import { actNouns, percentText } from "../rule/words.js";
import { boundsOf, checkedWithin, showsMoreByFirings, takenAsWrong, wantedAtThisRate, wantedStillNeeded, wrongUpperAfter, yearsAtThisRate, yearsStillNeeded, type RuleCounted, type VerdictBounds } from "./bounds.js";
import { checkedFirings } from "./checked.js";
import { localDays, type LocalDay } from "./local-days.js";
import { failureRuns, occasionSizes } from "./occasions.js";
import { seenOf, seenTimeline } from "./seen.js";
import { coveredYears, expectedUnverified, verifiableTime } from "./verifiable.js";
import type { Estimate } from "../../result/estimate.js";
import type { RuleJudgement, YearlyChance } from "../../result/rules.js";
import type { Covers } from "../../result/cover.js";

/** A rule's figures, as they stand in its judgement. */
export type RuleFigures = Pick<RuleJudgement, "firings" | "wanted" | "wrongPerYear" | "missedShare" | "bounds" | "delay" | "evidence">;

/** What figures are made from, as far as it adds up over periods. */
export interface Tally {
  readonly firings: RuleJudgement["firings"];
  readonly wanted: RuleJudgement["wanted"];
  readonly yearsSeen: number;
  readonly blindShare: number;
  readonly unclearShare: number;
  readonly unclearDaysShare: number;
  readonly covers: Covers;
}

/** What bears on a tally beside the rule and its history. */
export interface TallyContext {
  /**
   * Instants at which each signal was found to begin a false stretch: they show whether faults come one by one or in
   * clumps.
   */
  readonly falseStarts?: ReadonlyMap<string, readonly number[]>;
  /** Variants of the rule tried on the same history, this one included; 1 if not given. */
  readonly variants?: number;
}

/** The counts of one period. */
export function tallyOf(rule: RuleOverHistory, firings: readonly FiringJudgement[], wanted: readonly WantedOutcome[], { falseStarts, variants = 1 }: TallyContext): Tally {
  const ofOutcome = (outcome: FiringJudgement["outcome"]): FiringJudgement[] => firings.filter((one) => one.outcome === outcome);
  const wrongAt = ofOutcome("wrong").map((one) => one.at);
  const counted = (outcome: WantedOutcome["outcome"]): number => wanted.filter((one) => one.outcome === outcome).length;
  const failed = wanted.filter((one) => one.verified).map((one) => one.outcome !== "served");
  const heard = seenTimeline(rule);
  const days = localDays(rule.history.period, rule.site.timeZone);
  const verifiable = verifiableTime(rule, heard, days);
  const seen = seenOf(heard, [...wrongAt, ...rule.signals.flatMap((signal) => falseStarts?.get(signal) ?? [])], days);
  const { truth } = rule.witnesses.outside;
  const periodMs = truth.end - truth.start;
  return {
    firings: { count: firings.length, right: ofOutcome("right").length, wrong: wrongAt.length, unverified: ofOutcome("unverified").length },
    wanted: {
      count: wanted.length,
      served: counted("served"),
      late: counted("late"),
      missed: counted("missed"),
      verified: failed.length,
      verifiedFailed: failed.filter(Boolean).length,
    },
    yearsSeen: seen.ms / YEAR_MS,
    blindShare: 1 - seen.ms / periodMs,
    unclearShare: durations(truth).unknownMs / periodMs,
    unclearDaysShare: unclearDaysMs(truth, days) / periodMs,
    covers: {
      days: seen.days,
      months: seen.months,
      weekdays: seen.weekdays,
      wrongOccasions: occasionSizes(wrongAt),
      failureRuns: failureRuns(failed),
      faultsByDay: seen.eventsByDay,
      confirmedHours: verifiable.byHourMs.map((ms) => ms / HOUR_MS),
      expectedUnverified: {
        firings: expectedUnverified(firings.map((one) => one.at), verifiable, days),
        wanted: expectedUnverified(wanted.map((one) => one.at), verifiable, days),
      },
      checked: checkedFirings(firings, rule.site.timeZone),
      variants,
    },
  };
}

/** What is unclear on local days of which the larger part is: days without a diary, as far as nobody was asked about them. */
function unclearDaysMs(truth: Timeline, days: readonly LocalDay[]): number {
  const unclear = stretches(truth, UNKNOWN);
  return sum(days, (day) => {
    const ms = totalMs(intersection([day], unclear));
    return ms > (day.to - day.from) / 2 ? ms : 0;
  });
}

/**
 * Counts, rates, shares and delays of a rule. Rates are per year of the time *during which every way of firing could be
 * heard*: history in which the rule was deaf proves nothing about it. A wanted instant served late counts like a missed
 * one. `delays` are seconds. How much more would be enough takes longest to work out and bears on no verdict; it is null
 * where `outlook` is false.
 */
export function ruleFigures(tally: Tally, delays: readonly number[], { act, limits, confidence }: Standard, outlook = true): RuleFigures {
  const { firings, wanted, yearsSeen, blindShare, unclearShare, unclearDaysShare, covers } = tally;
  const counted = countedOf(tally);
  const bounds = boundsOf(counted, confidence);
  const perYear = (count: number): Estimate => rateEstimate(count, yearsSeen, confidence, "per year");
  const wrongPerYear = { unverifiedAsRight: perYear(firings.wrong), unverifiedAsWrong: perYear(firings.wrong + firings.unverified), limit: limits?.wrongPerYear ?? null, ...(limits?.inWords === undefined ? {} : { limitInWords: limits.inWords }) };
  const unverifiedWanted = wanted.count - wanted.verified;
  const until = outlook ? limits : null;
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
      unclearDaysShare,
      yearsConfirmed: counted.yearsConfirmed,
      moreMonths: until === null ? null : monthsOrNull(yearsStillNeeded(counted, until.wrongPerYear, confidence)),
      moreWantedServed: until === null ? null : wantedStillNeeded(counted, until.missedShare, confidence),
      atObservedRate: {
        moreMonths: until === null ? null : monthsOrNull(yearsAtThisRate(counted, until.wrongPerYear, confidence)),
        moreWanted: until === null ? null : wantedAtThisRate(counted, until.missedShare, confidence),
      },
      chanceWithinYear: yearlyChance(act, wrongPerYear, confidence),
      covers,
    },
  };
}

/** The upper bound of wrong firings a year if the same goes on for `times` as long. */
export function wrongBoundAfter(figures: RuleFigures, times: number, confidence: number): number {
  return wrongUpperAfter(countedOf({ ...figures, ...figures.evidence }), times, confidence);
}

/** Whether enough firings were checked, all or a random draw of them, to show by itself that wrong ones stay within the limit. */
export function checkedKeeps(figures: RuleFigures, limit: number, confidence: number): boolean {
  return checkedWithin(countedOf({ ...figures, ...figures.evidence }), limit, confidence);
}

/** A rate that no history allows. */
const NOTHING_SEEN = 1e12;

/** Whether the bound of wrong firings rests on firings that were checked, rather than on the time in which any would have been confirmed. */
export function restsOnFirings(figures: RuleFigures): boolean {
  return showsMoreByFirings(countedOf({ ...figures, ...figures.evidence }), figures.bounds.wrongUpper ?? NOTHING_SEEN);
}

/** Unverified firings that are taken as wrong: see `takenAsWrong`. */
export function unverifiedTakenAsWrong(figures: RuleFigures): number {
  return takenAsWrong(countedOf({ ...figures, ...figures.evidence }));
}

/** The one-sided bounds of a rule's figures, worked out anew: see {@link boundsOf}. */
export function verdictBounds(figures: RuleFigures, confidence: number): VerdictBounds {
  return boundsOf(countedOf({ ...figures, ...figures.evidence }), confidence);
}

function countedOf({ firings, wanted, yearsSeen, covers }: Pick<Tally, "firings" | "wanted" | "yearsSeen" | "covers">): RuleCounted {
  return {
    wrongOccasions: covers.wrongOccasions,
    unverifiedFirings: firings.unverified,
    checked: covers.checked,
    yearsSeen,
    yearsConfirmed: coveredYears(covers.confirmedHours.map((hours) => hours * HOUR_MS)),
    expectedUnverified: covers.expectedUnverified,
    failureRuns: covers.failureRuns,
    wanted: wanted.count,
    unverifiedWanted: wanted.count - wanted.verified,
    faultsByDay: covers.faultsByDay,
    daysSeen: covers.days,
    variants: covers.variants,
  };
}

function monthsOrNull(years: number | null): number | null {
  return years === null ? null : years * MONTHS_PER_YEAR;
}

/** A chance above this is given as "more than" it: no history proves certainty. */
const NEARLY_SURE = 0.999;

/**
 * The chance that it goes wrong at least once within a year: 1 − exp(−λ), with wrong firings taken as a Poisson process
 * of constant rate λ (they come one by one and at random; seasons are left out).
 */
export function yearlyChance(act: Act, wrong: Pick<RuleJudgement["wrongPerYear"], "unverifiedAsRight" | "unverifiedAsWrong">, confidence: number): YearlyChance {
  const chance = (rate: number | null): number | null => (rate === null ? null : -Math.expm1(-rate));
  const value = chance(wrong.unverifiedAsRight.value);
  const low = chance(wrong.unverifiedAsRight.low);
  const high = chance(wrong.unverifiedAsWrong.high);
  const noun = actNouns[act].one;
  if (value === null || low === null || high === null) return { value, low, high, text: `How likely a wrong ${noun} is within a year cannot be said: nothing was seen.` };
  const range = low > NEARLY_SURE ? `more than ${percentText(NEARLY_SURE)}` : low === 0 ? `up to ${percentText(high, "up")} is possible` : `between ${percentText(low, "down")} and ${percentText(high, "up")} is possible`;
  const text = `The chance of at least one wrong ${noun} within a year, if nothing changes: ${inWords(high, low)} (${range}, ${certaintyText(confidence)}).`;
  return { value, low, high, text };
}

/** A chance in words: what its bounds allow. */
function inWords(high: number, low: number): string {
  if (low > 0.9) return "all but certain";
  if (low > 0.5) return "more likely than not";
  if (high < 0.01) return "less than one in a hundred";
  if (high < 0.1) return "less than one in ten";
  if (high < 0.5) return "less likely than not";
  return low > 0.1 ? "a real one" : "too little was seen to rule it out";
}
