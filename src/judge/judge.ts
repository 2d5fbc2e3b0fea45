/**
 * One rule, from its condition to its verdict:
 *
 *   accounts ─ 1 replay ─────┬─ 3 outcomes ─┬─ 5 figures ────────────┬─ 8 verdict ─ 9 moments
 *   book ───── 2 the facts ──┼─ 4 wanted ───┘                        │
 *   faults ──────────────────┴─ 6 margin, near misses ─ 7 cut sets ──┘
 */
import type { ReferenceBook } from "../truth/reference/reference.js";
import { causeGroups } from "../site/cause-groups.js";
import { expressionRefs } from "../site/expression-refs.js";
import { expressionText } from "../site/expression-text.js";
import type { RuleSpec, Site } from "../site/site.js";
import type { SignalAccount } from "../truth/signals/account.js";
import { readEveryMs } from "./rule/read-every.js";
import { laneHistories } from "./replay/excerpts.js";
import { factsOutside, factsWithout } from "./rule/facts.js";
import { ruleFigures, tallyOf } from "./evidence/figures.js";
import { cutSetsOf } from "./fooled/cut-sets.js";
import type { FaultRates } from "./fooled/fault-rates.js";
import type { JudgedFiring, RuleJudgement } from "./judgement.js";
import { marginOf } from "./fooled/margin.js";
import { marginSummary } from "./fooled/margin-summary.js";
import { ruleMoments } from "./replay/moments.js";
import { judgeFiring } from "./replay/outcomes.js";
import { judgedByOwnWords, type OwnWordsFiring } from "./replay/own-words.js";
import { replay } from "./replay/replay.js";
import { worseningTexts } from "./evidence/worsening.js";
import { verdictSentence } from "./verdict/sentence.js";
import { seenOf, seenTimeline } from "./evidence/seen.js";
import { singlePointsOf } from "./fooled/single-points.js";
import { toleranceOf } from "./rule/prepare.js";
import { verdictOf, type VerdictInput } from "./verdict/verdict.js";
import { wantedOutcomes, type WantedOutcome } from "./replay/wanted.js";
import { wrongTime } from "./fooled/context.js";
import type { Interval } from "../ground/intervals.js";

export type { RuleJudgement } from "./judgement.js";

/** What is known beside the rule and its history, and bears on its verdict. */
export interface JudgeContext {
  /** Signals' measured rates of lying; without them nothing is expected of the cut sets. */
  readonly faults?: FaultRates;
  /** Groups of signals connected through shared causes, declared or seen; by what the site file declares if not given. */
  readonly groups?: ReadonlyMap<string, string>;
  /** Instants at which each signal was found to begin a false stretch: they show whether faults come one by one or in clumps. */
  readonly falseStarts?: ReadonlyMap<string, readonly number[]>;
  /** Variants of the rule tried on the same history, it included; 1 if not given. */
  readonly variants?: number;
  /** Clocks too far apart to judge by, in words; none if not given. */
  readonly clocks?: readonly string[];
}

/**
 * Replays a rule over the period and judges it against what truly happened. Instants are epoch milliseconds;
 * firing ids are the rule's name and a running number.
 * @throws RangeError when the rule names a signal without an account, or the accounts and references do not cover the same time.
 */
export function judgeRule(site: Site, rule: RuleSpec, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook, period: Interval, context: JudgeContext = {}): RuleJudgement {
  // 1. What the rule would have done.
  const replayed = replay(rule, accounts, site.bridgeMs);

  // 2. What was so: told by those whom the rule's signals have nothing in common with, and by everybody.
  const signals = expressionRefs(rule.when);
  const groups = context.groups ?? causeGroups(site.signals);
  const witnesses = {
    outside: factsOutside(rule, groups, book, site.bridgeMs, "verified"),
    support: factsOutside(rule, groups, book, site.bridgeMs, "supported"),
    full: factsWithout([], rule.rightWhen, book, site.bridgeMs),
  };

  // 3. and 4. Was each firing right, and was each wanted instant served?
  const tolerance = toleranceOf(rule, site);
  const outcomes = replayed.firings.map((at) => judgeFiring(at, tolerance.earlyMs, witnesses, signals, site));
  const { firings: judged, ownWords } = judgedByOwnWords(rule, site, outcomes, witnesses.outside, groups, book, tolerance.earlyMs);
  const wanted = wantedOutcomes(rule, site, replayed, witnesses, tolerance, (signal) => readEveryMs(accounts.get(signal)));

  // 5. In figures.
  const limits = site.limits[rule.act] ?? null;
  const faultInstants = [...judged.filter((one) => one.outcome === "wrong").map((one) => one.at), ...signals.flatMap((signal) => context.falseStarts?.get(signal) ?? [])];
  const seen = seenOf(seenTimeline(rule, replayed), faultInstants, site.timeZone);
  const tally = tallyOf(judged, wanted.list, seen, witnesses.outside.truth, context.variants ?? 1);
  const figures = ruleFigures(tally, wanted.list.flatMap((one) => (one.delaySeconds === null ? [] : [one.delaySeconds])), limits, site.confidence, rule.act);

  // 6. How close it came, and what stood in the way.
  const margin = marginOf(rule.when, replayed.parts);
  const wrong = wrongTime(witnesses.outside.truth, witnesses.full.truth, tolerance.earlyMs);

  // 7. Who could make it fire, or keep it from firing: by structure, and as things really were.
  const singlePoints = singlePointsOf(rule, site);
  const cutSets = cutSetsOf(rule, site, margin, wrong, context.faults ?? new Map());

  // 8. The verdict.
  const input: VerdictInput = { act: rule.act, limits, confidence: site.confidence, figures, singlePoints, inPractice: cutSets.inPractice, cutOff: wanted.cutOff, clocks: context.clocks ?? [], judgedUntil: period.to, timeZone: site.timeZone, uneven: worseningTexts(rule.act, judged, wanted.list, period), ownWords };
  const result = verdictOf(input);

  // 9. What to look at.
  const firingList = namedFirings(rule, judged, wanted.list);
  const idOf = new Map(firingList.map((firing) => [firing.at, firing.id]));
  const histories = laneHistories(rule, signals, accounts, witnesses.full, replayed.condition);
  return {
    name: rule.name,
    act: rule.act,
    verdict: result.verdict,
    sentence: verdictSentence(input, result),
    reasons: result.reasons,
    condition: expressionText(rule.when, site),
    rightWhen: expressionText(rule.rightWhen, site),
    signals,
    ...figures,
    singlePoints,
    margin: marginSummary(rule, site, margin, wrong, replayed.firings, histories),
    cutSets,
    firingList,
    wantedList: wanted.list.map(({ firingAt, ...one }) => ({ ...one, firing: firingAt === null ? null : (idOf.get(firingAt) ?? null) })),
    moments: ruleMoments(firingList, histories),
  };
}

/** Numbers the firings and ties each to the nearest wanted instant it serves. */
function namedFirings(rule: RuleSpec, judged: readonly OwnWordsFiring[], wanted: readonly WantedOutcome[]): JudgedFiring[] {
  return judged.map((firing, i) => {
    const served = wanted.filter((one) => one.firingAt === firing.at && one.delaySeconds !== null).toSorted((a, b) => Math.abs(a.at - firing.at) - Math.abs(b.at - firing.at))[0];
    const wantedAt = served?.at ?? null;
    return { ...firing, id: `${rule.name} #${i + 1}`, wantedAt, delaySeconds: wantedAt === null ? null : (firing.at - wantedAt) / 1000 };
  });
}
