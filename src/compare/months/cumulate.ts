import { range, sum } from "d3-array";
import { HOURS_PER_DAY } from "../../ground/units.js";
import type { Counts, RuleCounts } from "../../result/counts.js";
import { ruleFigures, type RuleFigures, type Tally } from "../../judge/evidence/figures.js";
import { verdictSentence } from "../../judge/verdict/sentence.js";
import { verdictOf, type VerdictInput } from "../../judge/verdict/verdict.js";
import { limitClaims } from "../../judge/design/claims.js";
import { joinedHistories } from "../../judge/design/history.js";
import { confirmedOf, designFigures } from "../../judge/design/road.js";
import { standardOf, type Standard } from "../../judge/rule/prepare.js";
import type { DesignHistory } from "../../result/design.js";
import { actNouns } from "../../judge/rule/words.js";
import type { Site } from "../../site/site.js";
import { unevenPeriods } from "../../statistics/clumps.js";
import type { RuleFinding } from "../../result/rules.js";

/** A rule's counts of one period. */
interface PeriodCounts {
  readonly label: string;
  readonly counts: RuleCounts;
}

/**
 * A rule's finding with a new verdict from this period and all earlier ones in which it was the same rule (equal
 * digests). Counts and time seen add up; bounds are those of the sums. The verdict of this period alone is kept in
 * `cumulated.periodAlone`, and all other figures of the finding stay this period's own.
 *
 * The verdict rests on the sum because the limits are on rates: ten quiet months prove ten times as much as one, and a
 * good month does not undo a bad one before it. Single points, by structure and in practice, are this period's: the
 * structure is the same, and what the other signals read may have changed for good. `roadOver` works out the road of
 * design, {@link designOver} unless another is given.
 */
export function cumulated(
  rule: RuleFinding,
  label: string,
  now: RuleCounts,
  earlier: readonly PeriodCounts[],
  site: Site,
  judgedUntil: number,
  roadOver = designOver,
): RuleFinding {
  if (earlier.length === 0) return rule;
  const periods: PeriodCounts[] = [...earlier, { label, counts: now }];
  const input = verdictInput(rule, periods, site, judgedUntil, roadOver);
  const result = verdictOf(input);
  return {
    ...rule,
    verdict: result.verdict,
    sentence: `${verdictSentence(input, result)} This counts ${periods.length} periods of the same rule.`,
    // What right_when asks beyond the usual is this period's: older counts do not keep it.
    reasons: [...result.reasons, ...rule.reasons.filter(({ code }) => code === "own-words")],
    cumulated: cumulatedFigures(rule, periods, input),
  };
}

/** What the verdict over all periods rests on. */
function verdictInput(rule: RuleFinding, periods: readonly PeriodCounts[], site: Site, judgedUntil: number, roadOver: typeof designOver): VerdictInput {
  const standard = standardOf(site, rule.act);
  const tally = sumOf(periods.map(({ counts }) => counts));
  const figures = { ...ruleFigures(tally, [], standard), delay: rule.delay };
  const textsOf = (code: RuleFinding["reasons"][number]["code"]): string[] =>
    rule.reasons.filter((one) => one.code === code).map(({ text }) => text);
  return {
    ...standard,
    // The delays of earlier periods are not kept.
    figures,
    singlePoints: rule.singlePoints,
    inPractice: rule.cutSets.inPractice,
    // Wanted instants cut off by the end of a period are in the reasons of that period.
    cutOff: 0,
    unjudged: rule.unjudged?.length ?? 0,
    clocks: textsOf("clock-offset"),
    judgedUntil,
    timeZone: site.timeZone,
    // Good periods before do not undo what gets worse within this one.
    ...roadOver(rule, periods, figures, standard),
    uneven: [...textsOf("uneven-periods"), ...unevenTexts(rule, periods)],
  };
}

function cumulatedFigures(rule: RuleFinding, periods: readonly PeriodCounts[], { figures, design, claims }: VerdictInput): RuleFinding["cumulated"] {
  const { firings, wanted, wrongPerYear, missedShare, bounds, evidence } = figures;
  return {
    periods: periods.map(({ label, counts }) => ({ label, firings: counts.firings, wanted: counts.wanted, yearsSeen: counts.yearsSeen })),
    yearsSeen: evidence.yearsSeen,
    blindShare: evidence.blindShare,
    firings,
    wanted,
    wrongPerYear: { unverifiedAsRight: wrongPerYear.unverifiedAsRight, unverifiedAsWrong: wrongPerYear.unverifiedAsWrong },
    missedShare: missedShare.unverifiedAsMissed,
    bounds,
    design: design?.figures ?? null,
    covers: evidence.covers,
    yearsConfirmed: evidence.yearsConfirmed,
    moreMonths: evidence.moreMonths,
    claims: [...claims],
    moreWantedServed: evidence.moreWantedServed,
    periodAlone: { verdict: rule.verdict, sentence: rule.sentence, reasons: rule.reasons },
  };
}

/**
 * The road of design over all periods: days, stretches and exposures add up, and bounds are worked out from their sums.
 * Periods whose parts were worked out in another way are left out, together with all before them.
 */
export function designOver(rule: RuleFinding, periods: readonly PeriodCounts[], figures: RuleFigures, standard: Standard): Pick<VerdictInput, "design" | "claims"> {
  const road = rule.design;
  if (road?.history == null) return { design: road, claims: limitClaims(figures, road, null, standard) };
  const own = road.history;
  const earlier = periods.slice(0, -1).map(({ counts }) => counts.design ?? null);
  const since = earlier.findLastIndex((one) => one === null || !sameParts(one, own)) + 1;
  const same = earlier.slice(since).filter((one) => one !== null);
  const history = [...same, own].reduce(joinedHistories);
  const months = new Set(periods.slice(since).flatMap(({ counts }) => counts.covers?.months ?? []));
  const held = { confidence: standard.confidence, limitPerYear: standard.limits?.wrongPerYear ?? null };
  const design = { ...road, figures: designFigures(history, road, months.size, confirmedOf(figures), held) };
  return { design, claims: limitClaims(figures, design, history, standard) };
}

function sameParts(a: DesignHistory, b: DesignHistory): boolean {
  return a.counting === b.counting && a.parts.every((part, i) => part.signals.join() === b.parts[i]?.signals.join());
}

/** Counts and exposures of all periods together. Shares of time are weighted by the periods' lengths. */
function sumOf(periods: readonly RuleCounts[]): Tally {
  const total = (read: (one: RuleCounts) => number): number => sum(periods, read);
  const yearsSeen = total((one) => one.yearsSeen);
  const years = yearsSeen + total((one) => one.yearsBlind);
  const covers = periods.flatMap((one) => (one.covers === undefined ? [] : [one.covers]));
  return {
    firings: {
      count: total((one) => one.firings.count),
      right: total((one) => one.firings.right),
      wrong: total((one) => one.firings.wrong),
      unverified: total((one) => one.firings.unverified),
    },
    wanted: {
      count: total((one) => one.wanted.count),
      served: total((one) => one.wanted.served),
      late: total((one) => one.wanted.late),
      missed: total((one) => one.wanted.missed),
      verified: total((one) => one.wanted.verified),
      verifiedFailed: total((one) => one.wanted.verifiedFailed),
    },
    yearsSeen,
    blindShare: years === 0 ? 1 : total((one) => one.yearsBlind) / years,
    unclearShare: years === 0 ? 1 : total((one) => one.yearsUnclear ?? one.yearsSeen + one.yearsBlind) / years,
    unclearDaysShare: years === 0 ? 0 : total((one) => one.yearsUnclearDays ?? 0) / years,
    covers: {
      days: sum(covers, (one) => one.days),
      months: [...new Set(covers.flatMap((one) => one.months))].sort(),
      weekdays: [0, 1, 2, 3, 4, 5, 6].map((day) => sum(covers, (one) => one.weekdays[day])),
      wrongOccasions: covers.flatMap((one) => one.wrongOccasions),
      failureRuns: covers.flatMap((one) => one.failureRuns),
      faultsByDay: covers.flatMap((one) => one.faultsByDay),
      confirmedHours: range(HOURS_PER_DAY).map((hour) => sum(covers, (one) => one.confirmedHours[hour])),
      expectedUnverified: { firings: sum(covers, (one) => one.expectedUnverified.firings), wanted: sum(covers, (one) => one.expectedUnverified.wanted) },
      checked: covers.flatMap((one) => one.checked),
      // A variant chosen on one period's history was chosen on part of this evidence.
      variants: Math.max(1, ...covers.map((one) => one.variants)),
    },
  };
}

/** Below this p-value periods are not of one steady rate. Our own choice: strict, since many rules are tested. */
const UNEVEN_CHANCE = 0.01;

/** Whether wrong firings, or missed and late instants, came in some periods rather than others. */
function unevenTexts(rule: RuleFinding, periods: readonly PeriodCounts[]): string[] {
  const told = (what: string, counts: readonly number[], exposures: readonly number[]): string[] =>
    unevenPeriods(counts, exposures, UNEVEN_CHANCE) === true
      ? [
          `${what} come in some periods and not in others (${periods.map(({ label }, i) => `${label}: ${counts[i]}`).join(", ")}), so their total says little about the next.`,
        ]
      : [];
  return [
    ...told(
      `Wrong ${actNouns[rule.act].many}`,
      periods.map(({ counts }) => counts.firings.wrong),
      periods.map(({ counts }) => counts.yearsSeen),
    ),
    ...told(
      `Missed or late ${actNouns[rule.act].many}`,
      periods.map(({ counts }) => counts.wanted.verifiedFailed),
      periods.map(({ counts }) => counts.wanted.verified),
    ),
  ];
}

/**
 * The rule's counts in each earlier period, oldest first, as far back as the rule was the same, and why no further. A
 * rule that was changed and changed back starts at the change back.
 */
export function sameRule(
  rule: RuleFinding,
  earlier: readonly Counts[],
): { readonly periods: PeriodCounts[]; readonly startedAnew: string | null } {
  const periods: PeriodCounts[] = [];
  for (const { period, rules } of earlier.toReversed()) {
    const same =
      rules.find((one) => one.digest === rule.digest && one.name === rule.name) ?? rules.find((one) => one.digest === rule.digest);
    if (same !== undefined) periods.unshift({ label: period.label, counts: same });
    else if (rules.some((one) => one.name === rule.name)) {
      return {
        periods,
        startedAnew: `The rule “${rule.name}” was different in ${period.label}: its condition, its limits or a sensor it listens to has changed since. What was seen up to then is not counted.`,
      };
    }
  }
  return { periods, startedAnew: null };
}
