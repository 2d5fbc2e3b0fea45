import type { Counts, RuleCounts } from "../../result/counts-schema.js";
import type { RuleFinding } from "../../result/schema.js";
import { ruleFigures, type Tally } from "../../judge/evidence/figures.js";
import { verdictSentence } from "../../judge/verdict/sentence.js";
import { verdictOf, type VerdictInput } from "../../judge/verdict/verdict.js";
import { standardOf } from "../../judge/rule/prepare.js";
import { actNouns } from "../../judge/rule/words.js";
import type { Site } from "../../site/site.js";
import { unevenPeriods } from "../../statistics/clumps.js";

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
export function cumulated(rule: RuleFinding, label: string, now: RuleCounts, earlier: readonly PeriodCounts[], site: Site, judgedUntil: number): RuleFinding {
  if (earlier.length === 0) return rule;
  const periods: PeriodCounts[] = [...earlier, { label, counts: now }];
  const tally = sumOf(periods.map(({ counts }) => counts));
  const standard = standardOf(site, rule.act);
  // The delays of earlier periods are not kept.
  const figures = { ...ruleFigures(tally, [], standard), delay: rule.delay };
  const input: VerdictInput = {
    ...standard,
    figures,
    singlePoints: rule.singlePoints,
    inPractice: rule.cutSets.inPractice,
    // Those of each period stand in the reasons of that period.
    cutOff: 0,
    clocks: rule.reasons.filter((one) => one.code === "clock-offset").map((one) => one.text),
    judgedUntil,
    timeZone: site.timeZone,
    // What gets worse within this period is not mended by good ones before it.
    uneven: [...rule.reasons.filter((one) => one.code === "uneven-periods").map((one) => one.text), ...unevenTexts(rule, periods)],
  };
  const result = verdictOf(input);
  const { yearsSeen, blindShare, covers } = figures.evidence;
  return {
    ...rule,
    verdict: result.verdict,
    sentence: `${verdictSentence(input, result)} Over ${periods.length} periods of the same rule.`,
    // What right_when asks beyond the usual is told of this period: older counts do not keep it.
    reasons: [...result.reasons, ...rule.reasons.filter(({ code }) => code === "own-words")],
    cumulated: {
      periods: periods.map(({ label: of, counts }) => ({ label: of, firings: counts.firings, wanted: counts.wanted, yearsSeen: counts.yearsSeen })),
      yearsSeen,
      blindShare,
      firings: figures.firings,
      wanted: figures.wanted,
      wrongPerYear: { unverifiedAsRight: figures.wrongPerYear.unverifiedAsRight, unverifiedAsWrong: figures.wrongPerYear.unverifiedAsWrong },
      missedShare: figures.missedShare.unverifiedAsMissed,
      bounds: figures.bounds,
      covers: { ...covers, months: [...covers.months], weekdays: [...covers.weekdays], wrongOccasions: [...covers.wrongOccasions], failureRuns: [...covers.failureRuns], faultsByDay: [...covers.faultsByDay] },
      moreMonthsIfUnverifiedWrong: figures.evidence.moreMonthsIfUnverifiedWrong,
      moreMonthsIfUnverifiedRight: figures.evidence.moreMonthsIfUnverifiedRight,
      moreWantedServed: figures.evidence.moreWantedServed,
      periodAlone: { verdict: rule.verdict, sentence: rule.sentence, reasons: rule.reasons },
    },
  };
}

/** Counts and exposures of all periods together. Shares of time are weighted by the periods' lengths. */
function sumOf(periods: readonly RuleCounts[]): Tally {
  const sum = (read: (one: RuleCounts) => number): number => periods.reduce((total, one) => total + read(one), 0);
  const yearsSeen = sum((one) => one.yearsSeen);
  const years = yearsSeen + sum((one) => one.yearsBlind);
  const covers = periods.flatMap((one) => (one.covers === undefined ? [] : [one.covers]));
  return {
    firings: { count: sum((one) => one.firings.count), right: sum((one) => one.firings.right), wrong: sum((one) => one.firings.wrong), unverified: sum((one) => one.firings.unverified) },
    wanted: {
      count: sum((one) => one.wanted.count),
      served: sum((one) => one.wanted.served),
      late: sum((one) => one.wanted.late),
      missed: sum((one) => one.wanted.missed),
      verified: sum((one) => one.wanted.verified),
      verifiedFailed: sum((one) => one.wanted.verifiedFailed),
    },
    yearsSeen,
    blindShare: years === 0 ? 1 : sum((one) => one.yearsBlind) / years,
    unclearShare: years === 0 ? 1 : sum((one) => one.yearsUnclear ?? one.yearsSeen + one.yearsBlind) / years,
    covers: {
      days: covers.reduce((total, one) => total + one.days, 0),
      months: [...new Set(covers.flatMap((one) => one.months))].sort(),
      weekdays: [0, 1, 2, 3, 4, 5, 6].map((day) => covers.reduce((total, one) => total + (one.weekdays[day] ?? 0), 0)),
      wrongOccasions: covers.flatMap((one) => one.wrongOccasions),
      failureRuns: covers.flatMap((one) => one.failureRuns),
      faultsByDay: covers.flatMap((one) => one.faultsByDay),
      // A variant chosen on one period's history was chosen on part of this evidence.
      variants: Math.max(1, ...covers.map((one) => one.variants)),
    },
  };
}

/** Periods that differ by more than this chance would explain are no longer one steady rate. Our own choice: strict, since many rules are looked at. */
const UNEVEN_CHANCE = 0.01;

/** Whether wrong firings, or missed and late instants, came in some periods rather than others. */
function unevenTexts(rule: RuleFinding, periods: readonly PeriodCounts[]): string[] {
  const told = (what: string, counts: readonly number[], exposures: readonly number[]): string[] =>
    unevenPeriods(counts, exposures, UNEVEN_CHANCE) === true
      ? [`${what} come in some periods and not in others (${periods.map(({ label }, i) => `${label}: ${counts[i]}`).join(", ")}), so their sum says little about the next.`]
      : [];
  return [
    ...told(`Wrong ${actNouns[rule.act].many}`, periods.map(({ counts }) => counts.firings.wrong), periods.map(({ counts }) => counts.yearsSeen)),
    ...told(`Missed or late ${actNouns[rule.act].many}`, periods.map(({ counts }) => counts.wanted.verifiedFailed), periods.map(({ counts }) => counts.wanted.verified)),
  ];
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
