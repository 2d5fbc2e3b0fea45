/**
 * Other rules for one that is not clear, out of the signals there are.
 *
 *   history ─ learn (first part) ─ rules of few forms ─ replayed once ─┐
 *   present rule ─ yardstick ──────────────────────────────────────────┴─ better on the first part ─ ranked ─┐
 *                       └────────────────────────────────────────────────────── better on the rest too? ─────┴─ proposals
 */
import type { Interval } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";
import type { GapFinding } from "../../result/gap.js";
import type { Proposal, RuleProposals } from "../../result/proposals.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import { expressionText } from "../../site/expression-text.js";
import { ruleText } from "../../site/rule-text.js";
import type { Site, SubjectClass } from "../../site/site.js";
import type { Timeline } from "../../timeline/timeline.js";
import { coverOf } from "../design/cover.js";
import { gapCondition } from "../design/road.js";
import type { DesignContext } from "../design/road.js";
import { gapFinding } from "../gap/finding.js";
import { heardLive, overHistory, type RuleOverHistory } from "../replay/replay.js";
import { evaluateParts, timelineOfPart } from "../rule/evaluate.js";
import { letsIn, prepareRule, type History } from "../rule/prepare.js";
import { TRAIN_SHARE } from "../settings/tune.js";
import { arrivalRules } from "./arrivals.js";
import { departureRules } from "./departures.js";
import { makeInterned } from "./intern.js";
import { missingEvidence } from "./missing.js";
import { mendedBy, momentsOf } from "./moments.js";
import { learn } from "./occasions.js";
import { conditionCount, rankedOf, type Ranked } from "./ranking.js";
import { reasonOf } from "./reason.js";
import { hasSinglePoint, structureWith } from "./structure.js";
import { aimsOf, betters, delayOf, figuresOf, makeYardstick, type Judged } from "./yardstick.js";

/** A condition of one of the forms, with what the rule would have heard. */
interface Candidate {
  readonly when: Expression;
  readonly condition: Timeline;
}

/** Proposes other rules for one rule after another of one history: what they have in common is worked out once. */
export type Proposer = (rule: RuleOverHistory) => RuleProposals;

/**
 * Makes the search over one history. A proposal has no single signal and no shared cause that alone could make it act;
 * it hears of everything that the present `right_when` asks about; it was better than the present rule on the first part
 * of the history, was the best there among those that as many groups must lie together to fool, and is better on the
 * rest. It opens no gap and no hostile scene that the present rule does not.
 */
export function makeProposer(site: Site, history: History, design: DesignContext): Proposer {
  const { period } = history;
  const splitAt = Math.round(period.from + TRAIN_SHARE * (period.to - period.from));
  const train: Interval = { from: period.from, to: splitAt };
  const heldOut: Interval = { from: splitAt, to: period.to };
  const candidatesFor = makeCandidates(site, history, design, splitAt);
  return (rule) => {
    const { spec, site: { confidence } } = rule;
    const measure = makeYardstick(rule);
    const present = measure(rule.replayed.condition);
    const candidates = candidatesFor(rule);
    const presentAims = aimsOf(present, train);
    const better = candidates.flatMap(({ when, condition }) => {
      const judged = measure(condition);
      const aims = aimsOf(judged, train);
      return betters(aims, presentAims) ? [{ when, judged, aims, delay: delayOf(judged, train) }] : [];
    });
    const chosen = rankedOf(better, { rule, design, leftOut: heldOut });
    const lookedAt = chosen.length;
    const kept = chosen.filter(({ judged }) => betters(aimsOf(judged, heldOut), aimsOf(present, heldOut)));
    const figures = (judged: Judged) => ({ train: figuresOf(judged, train, confidence, 1), heldOut: figuresOf(judged, heldOut, confidence, lookedAt) });
    const proposals = kept.map((one) => proposalOf(one, { rule, present, design, ...figures(one.judged) }));
    return { rule: spec.name, act: spec.act, splitAt, tried: candidates.length, lookedAt, present: figures(present), proposals, why: whyOf(rule, design, { tried: candidates.length, better: better.length, lookedAt, kept: kept.length, faultless: presentAims.every((one) => one === 0) }) };
  };
}

/** Rules of all forms without a single point, replayed; those of one act and one set of needed subjects once. */
function makeCandidates(site: Site, history: History, { seen }: DesignContext, splitAt: number): (rule: RuleOverHistory) => readonly Candidate[] {
  const learned = learn(site, history, splitAt);
  const interned = makeInterned();
  const heard = new Map<Expression, Timeline>();
  const known = new Map<string, readonly Candidate[]>();
  const replayed = (when: Expression): Candidate => {
    const parts = evaluateParts(when, (ref) => heardLive(lookUp(history.accounts, ref)), site.bridgeMs, heard);
    for (const [part, timeline] of parts) if (part !== when) heard.set(part, timeline);
    return { when, condition: timelineOfPart(when, parts) };
  };
  return ({ spec }) => {
    const needed = neededBy(spec.rightWhen, site);
    const opens = letsIn(spec.act);
    const key = JSON.stringify([opens, [...needed].sort()]);
    const found = known.get(key);
    if (found !== undefined) return found;
    const all = opens ? arrivalRules(learned, needed, interned) : departureRules(learned, needed, interned);
    const sound = all.filter((when) => !hasSinglePoint(structureWith(prepareRule(site, { ...spec, when }), seen)));
    const candidates = sound.map(replayed);
    known.set(key, candidates);
    return candidates;
  };
}

/** The classes of the subjects that make the rule right: none of them may be left unheard. */
function neededBy(rightWhen: Expression, site: Site): ReadonlySet<SubjectClass> {
  return new Set(expressionRefs(rightWhen).flatMap((ref) => site.subjects.find(({ id }) => id === ref)?.class ?? []));
}

interface Beside {
  readonly rule: RuleOverHistory;
  readonly present: Judged;
  readonly design: DesignContext;
  readonly train: Proposal["train"];
  readonly heldOut: Proposal["heldOut"];
}

function proposalOf({ prepared, judged, groups, bound }: Ranked, { rule, present, design, train, heldOut }: Beside): Proposal {
  const { site, spec, history } = rule;
  const over = overHistory(prepared, history);
  const cover = letsIn(spec.act) ? coverOf(prepared, design.lags) : null;
  const moments = momentsOf(present, judged, rule);
  return {
    yaml: ruleText({ ...prepared.spec, name: freeName(`${spec.name}, proposed (${groups})`, site) }, site),
    condition: expressionText(prepared.spec.when, site),
    groups,
    conditions: conditionCount(prepared.spec.when),
    train,
    heldOut,
    gap: gapText(gapFinding(over, design.lags, false)),
    byDesignPerYear: bound,
    rightWhenNote: cover === null || cover.holds ? null : cover.text,
    ...moments,
    ...reasonOf(mendedBy(present, judged, rule), {
      present: { when: spec.when, parts: rule.replayed.parts },
      proposed: { when: prepared.spec.when, parts: over.replayed.parts },
      site,
      liveOf: (signal) => lookUp(history.accounts, signal).live,
    }),
  };
}

/** The limits of the lags are found by the next audit, once the rule stands in the site file. */
function gapText(gap: GapFinding): string {
  return gap.searched && gap.scene === null ? "It cannot act wrongly while every sensor tells the truth and is no later than usual." : gapCondition(gap).text;
}

function whyOf(rule: RuleOverHistory, { seen }: DesignContext, { tried, better, lookedAt, kept, faultless }: { readonly tried: number; readonly better: number; readonly lookedAt: number; readonly kept: number; readonly faultless: boolean }): string {
  if (kept > 0) return `${kept} of ${tried} ${tried === 1 ? "rule" : "rules"} tried ${kept === 1 ? "was" : "were"} better than the present one on both parts of the history.`;
  const plain = "Nothing better was found.";
  const lacking = missingEvidence(rule.site, seen) ?? plain;
  if (tried === 0) return `${lacking} With these sensors, one false report is enough to fool any rule.`;
  if (faultless) return `${plain} On the first part of the history the present rule made no mistake, so none of the ${tried} others tried could do better there.`;
  if (better === 0) return `${lacking} On the first part of the history, none of the ${tried} others tried had fewer wrong, missed or late without more of another.`;
  if (lookedAt === 0) return `${lacking} Of ${tried} others tried, ${better} looked better on the first part of the history, but the best of them can be fooled where the present rule cannot.`;
  return `${lacking} Of ${tried} others tried, the best on the first part of the history did no better on the rest.`;
}

/** The name, or the first with a number after it that no rule of the site has. */
function freeName(name: string, { rules }: Site): string {
  const taken = new Set(rules.map((one) => one.name));
  for (let i = 1; ; i += 1) {
    const tryName = i === 1 ? name : `${name} (${i})`;
    if (!taken.has(tryName)) return tryName;
  }
}
