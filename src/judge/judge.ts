/**
 * One rule, from its condition to its verdict:
 *
 *   site, rule ─ prepare ─ over a history ─ 1 outcomes ─ 2 counting ───┬─ 5 verdict ─ 6 what to look at
 *                                  ├─────── 3 what could fool it ──────┤
 *                                  └─────── 4 parts wrong at once ─────┘
 *
 * `prepareRule` and `overHistory` come before: drills and other settings start from the same prepared rule.
 */
import { least } from "d3-array";
import { expressionText } from "../site/expression-text.js";
import { SECOND_MS } from "../ground/units.js";
import { limitClaims } from "./design/claims.js";
import { confirmedOf, designFigures, designRoad, type DesignContext } from "./design/road.js";
import { ruleFigures, tallyOf, type RuleFigures, type TallyContext } from "./evidence/figures.js";
import { worseningTexts } from "./evidence/occasions.js";
import { falseReportAt } from "./culprit/false-report.js";
import { unservedCulprit } from "./culprit/unserved.js";
import type { ReadText } from "./culprit/words.js";
import { fooledContext } from "./fooled/context.js";
import { cutSetsOf } from "./fooled/cut-sets.js";
import type { FaultRates } from "./fooled/fault-rates.js";
import { singlePointsOf } from "./fooled/lying-sets.js";
import { gapFinding } from "./gap/finding.js";
import { twoEvents } from "./gap/two-events.js";
import { marginSummary } from "./fooled/near-misses.js";
import { laneHistories, ruleMoments } from "./replay/histories.js";
import { judgeFirings, type OwnWordsFiring } from "./replay/own-words.js";
import type { RuleOverHistory } from "./replay/replay.js";
import { wantedOutcomes, type WantedOutcome } from "./replay/wanted-outcomes.js";
import { verdictSentence } from "./verdict/sentence.js";
import { verdictOf, type VerdictInput } from "./verdict/verdict.js";
import type { GapFinding } from "../result/gap.js";
import type { DesignRoad } from "../result/design.js";
import type { Culprit } from "../result/culprit.js";
import type { Firing, RuleJudgement, WantedInstant } from "../result/rules.js";

/** What is known beside the rule and its history, and bears on its verdict. */
export interface JudgeContext extends TallyContext {
  /** Signals' measured rates of lying; without them nothing is expected of the cut sets. */
  readonly faults?: FaultRates;
  /** What the road of design needs; without it only counting can clear the rule. */
  readonly design?: DesignContext;
  /** Clocks too far apart to judge by, in words; none if not given. */
  readonly clocks?: readonly string[];
  /** What a signal read, for the words about it; if not given, what it said. */
  readonly read?: ReadText;
  /** Only what the verdict rests on: neither how late sensors may be, nor what more months could show. False if not given. */
  readonly verdictOnly?: boolean;
}

/**
 * Judges a rule against what truly happened. Instants are epoch milliseconds; firing ids are the rule's name and a
 * running number.
 */
export function judgeRule(rule: RuleOverHistory, context: JudgeContext = {}): RuleJudgement {
  const { spec, site, standard, history } = rule;

  // 1. Was each firing right, and was each wanted instant served?
  const { firings, ownWords } = judgeFirings(rule);
  const wanted = wantedOutcomes(rule);

  // 2. How much that proves.
  const delays = wanted.flatMap((one) => (one.delaySeconds === null ? [] : [one.delaySeconds]));
  const figures = ruleFigures(tallyOf(rule, firings, wanted, context), delays, standard);

  // 3. Who could make it fire, or keep it from firing: by structure, and as things really were.
  const singlePoints = singlePointsOf(rule);
  const fooled = fooledContext(rule, context.faults ?? new Map());
  const cutSets = cutSetsOf(fooled);

  // 4. How often independent parts would be wrong at once.
  const gap = context.design === undefined ? null : gapFinding(rule, context.design.lags, context.verdictOnly !== true);
  const design = context.design === undefined || gap === null ? null : designOf(rule, context.design, gap, figures);

  const claims = context.verdictOnly === true ? [] : limitClaims(figures, design, design?.history ?? null, standard);

  // 5. The verdict.
  const input: VerdictInput = {
    ...standard,
    figures,
    singlePoints,
    inPractice: cutSets.inPractice,
    cutOff: rule.wanted.cutOff,
    unjudged: rule.wanted.unjudged.length,
    clocks: context.clocks ?? [],
    judgedUntil: history.period.to,
    timeZone: site.timeZone,
    uneven: worseningTexts(rule, firings, wanted),
    ownWords,
    design,
    claims,
  };
  const result = verdictOf(input);

  // 6. What to look at.
  const read: ReadText = context.read ?? (() => null);
  const firingList = namedFirings(spec.name, firings, wanted).map((firing) => ({ ...firing, culprit: firing.outcome === "wrong" ? falseReportAt(firing.at, rule, read) : null }));
  const idOf = new Map(firingList.map((firing) => [firing.at, firing.id]));
  const lanes = laneHistories(rule);
  return {
    name: spec.name,
    act: spec.act,
    verdict: result.verdict,
    sentence: verdictSentence(input, result),
    reasons: result.reasons,
    condition: expressionText(spec.when, site),
    rightWhen: expressionText(spec.rightWhen, site),
    signals: rule.signals,
    ...figures,
    design,
    gap,
    twoEvents: twoEvents(rule),
    claims,
    singlePoints,
    margin: marginSummary(fooled, lanes),
    cutSets,
    firingList,
    wantedList: wanted.map((one) => wantedFinding(one, unservedCulprit(one, rule, read), idOf)),
    unjudged: rule.wanted.unjudged.map(({ from }) => from),
    moments: ruleMoments(firingList, lanes),
  };
}

function designOf(rule: RuleOverHistory, context: DesignContext, gap: GapFinding, figures: RuleFigures): DesignRoad {
  const road = designRoad(rule, context, gap);
  if (road.history === null) return { ...road, figures: null };
  const held = { confidence: rule.standard.confidence, limitPerYear: rule.standard.limits?.wrongPerYear ?? null };
  return { ...road, figures: designFigures(road.history, road, figures.evidence.covers.months.length, confirmedOf(figures), held) };
}

/** A wanted instant as it is told; of one that failed, `why` is in the words of its culprit. */
function wantedFinding({ at, outcome, verified, firingAt, delaySeconds, why }: WantedOutcome, culprit: Culprit | null, idOf: ReadonlyMap<number, string>): WantedInstant {
  return { at, outcome, verified, firing: firingAt === null ? null : (idOf.get(firingAt) ?? null), delaySeconds, why: culprit?.text ?? why, culprit };
}

/** Numbers the firings and ties each to the nearest wanted instant it serves. */
function namedFirings(name: string, judged: readonly OwnWordsFiring[], wanted: readonly WantedOutcome[]): Omit<Firing, "culprit">[] {
  return judged.map((firing, i) => {
    const served = least(wanted.filter((one) => one.firingAt === firing.at && one.delaySeconds !== null), (one) => Math.abs(one.at - firing.at));
    const wantedAt = served?.at ?? null;
    return { ...firing, id: `${name} #${i + 1}`, wantedAt, delaySeconds: wantedAt === null ? null : (firing.at - wantedAt) / SECOND_MS };
  });
}
