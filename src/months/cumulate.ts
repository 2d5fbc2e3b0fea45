import type { Counts, RuleCounts } from "../findings/counts-schema.js";
import type { RuleFinding } from "../findings/schema.js";
import { atObservedRate, faultFreeMonths, yearlyChance } from "../rules/evidence.js";
import { verdictSentence } from "../rules/sentence.js";
import { verdictOf, type VerdictInput } from "../rules/verdict.js";
import type { Site } from "../site/site.js";
import { trialsNeeded } from "../statistics/evidence.js";
import { rateEstimate } from "../statistics/rate.js";
import { shareEstimate } from "../statistics/share.js";

/** A rule's counts of one period. */
interface PeriodCounts {
  readonly label: string;
  readonly counts: RuleCounts;
}

/**
 * A rule's finding with its verdict made anew from this period and all earlier ones in which it was the same rule (equal
 * digests). Counts and time seen add up; bounds are those of the sums. What this period alone would have said is kept in
 * `cumulated.periodAlone`, and all other figures of the finding stay this period's own.
 *
 * The verdict rests on the sum because the limits are on rates: ten quiet months prove ten times as much as one, and a bad
 * month is not forgotten when the next is good. Single points, by structure and in practice, are this period's: the
 * structure is the same, and what the others read may have changed for good.
 */
export function cumulated(rule: RuleFinding, label: string, now: RuleCounts, earlier: readonly PeriodCounts[], site: Site): RuleFinding {
  if (earlier.length === 0) return rule;
  const periods: PeriodCounts[] = [...earlier, { label, counts: now }];
  const sum = (read: (one: RuleCounts) => number): number => periods.reduce((total, { counts }) => total + read(counts), 0);
  const firings = { count: sum((one) => one.firings.count), right: sum((one) => one.firings.right), wrong: sum((one) => one.firings.wrong), unverified: sum((one) => one.firings.unverified) };
  const wanted = {
    count: sum((one) => one.wanted.count),
    served: sum((one) => one.wanted.served),
    late: sum((one) => one.wanted.late),
    missed: sum((one) => one.wanted.missed),
    verified: sum((one) => one.wanted.verified),
  };
  const yearsSeen = sum((one) => one.yearsSeen);
  const years = yearsSeen + sum((one) => one.yearsBlind);
  const { confidence } = site;
  const limits = site.limits[rule.act] ?? null;
  const doubtful = firings.wrong + firings.unverified;
  const wrongPerYear = { unverifiedAsRight: rateEstimate(firings.wrong, yearsSeen, confidence, "per year"), unverifiedAsWrong: rateEstimate(doubtful, yearsSeen, confidence, "per year") };
  const missedShare = shareEstimate(wanted.missed, wanted.count, confidence);
  const evidence = {
    yearsSeen,
    blindShare: years === 0 ? 1 : sum((one) => one.yearsBlind) / years,
    moreMonthsIfUnverifiedWrong: faultFreeMonths(doubtful, yearsSeen, limits, confidence),
    moreMonthsIfUnverifiedRight: faultFreeMonths(firings.wrong, yearsSeen, limits, confidence),
    moreWantedServed: limits === null ? null : trialsNeeded(wanted.missed, wanted.count, limits.missedShare, confidence),
    atObservedRate: atObservedRate(doubtful, yearsSeen, wanted.missed, wanted.count, limits, confidence),
    chanceWithinYear: yearlyChance(rule.act, wrongPerYear, confidence),
  };
  const input: VerdictInput = {
    act: rule.act,
    limits,
    confidence,
    figures: {
      firings,
      wanted,
      wrongPerYear: { ...wrongPerYear, limit: rule.wrongPerYear.limit },
      missedShare: { all: missedShare, verifiedOnly: missedShare, limit: rule.missedShare.limit },
      delay: rule.delay,
      evidence,
    },
    singlePoints: rule.singlePoints,
    inPractice: rule.cutSets.inPractice,
    // Those of each period stand in the reasons of that period.
    cutOff: 0,
  };
  const result = verdictOf(input);
  return {
    ...rule,
    verdict: result.verdict,
    sentence: `${verdictSentence(input, result)} Over ${periods.length} periods of the same rule.`,
    reasons: [...result.reasons],
    cumulated: {
      periods: periods.map(({ label: of, counts }) => ({ label: of, firings: counts.firings, wanted: counts.wanted, yearsSeen: counts.yearsSeen })),
      yearsSeen,
      blindShare: evidence.blindShare,
      firings,
      wanted,
      wrongPerYear,
      missedShare,
      wrongUpperBound: Number.isFinite(result.bounds.wrongUpper) ? result.bounds.wrongUpper : null,
      missedUpperBound: result.bounds.missedUpper,
      moreMonthsIfUnverifiedWrong: evidence.moreMonthsIfUnverifiedWrong,
      moreMonthsIfUnverifiedRight: evidence.moreMonthsIfUnverifiedRight,
      moreWantedServed: evidence.moreWantedServed,
      periodAlone: { verdict: rule.verdict, sentence: rule.sentence, reasons: rule.reasons },
    },
  };
}

/**
 * The rule as it was in each earlier period, oldest first, and why its evidence starts anew where it does: the run of
 * periods with the same digest that ends with the latest one. A rule changed and changed back starts at the change back.
 */
export function sameRule(rule: RuleFinding, earlier: readonly Counts[]): { readonly periods: PeriodCounts[]; readonly startedAnew: string | null } {
  const periods: PeriodCounts[] = [];
  for (const { period, rules } of earlier.toReversed()) {
    const same = rules.find((one) => one.digest === rule.digest && one.name === rule.name) ?? rules.find((one) => one.digest === rule.digest);
    if (same !== undefined) periods.unshift({ label: period.label, counts: same });
    else if (rules.some((one) => one.name === rule.name)) {
      return { periods, startedAnew: `In ${period.label} the rule "${rule.name}" was another one: its condition, its limits, or a signal it listens to has changed since. Evidence up to then is not counted.` };
    }
  }
  return { periods, startedAnew: null };
}
