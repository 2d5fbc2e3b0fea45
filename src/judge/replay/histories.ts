import { expressionText } from "../../site/expression-text.js";
import type { Expression } from "../../site/expression.js";
import type { Site } from "../../site/site.js";
import { restrict } from "../../timeline/restrict.js";
import type { Timeline, TruthState } from "../../timeline/timeline.js";
import type { ConditionPart, Histories } from "../../result/histories.js";
import { stepsText } from "../../result/history-steps.js";
import { MINUTE_MS } from "../../ground/units.js";
import { laneStates } from "./lane-states.js";
import { isAtom, type Atom } from "../rule/condition.js";
import { timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";
import { confirmedTimeline } from "../rule/facts.js";
import type { History } from "../rule/prepare.js";
import { accountOf, type RuleOverHistory } from "./replay.js";
import type { Excerpt, Firing, Lane, Moment } from "../../result/rules.js";

/** An excerpt begins this long before what it shows: long enough for an arrival to have built up. Our own choice. */
const MOMENT_BEFORE_MS = 15 * MINUTE_MS;
/** And ends this long after it. Our own choice. */
const MOMENT_AFTER_MS = 10 * MINUTE_MS;

/** What one lane of a rule's timing diagrams is cut from: a history over the whole period. */
export interface LaneHistory {
  readonly label: string;
  readonly role: Lane["role"];
  readonly timeline: Timeline;
}

/**
 * The lanes of a rule's timing diagrams: what the rule heard of each signal, what most likely happened, and the
 * condition.
 */
export function laneHistories(rule: RuleOverHistory): LaneHistory[] {
  const { spec, signals, history, witnesses, replayed } = rule;
  return [
    ...signals.map((signal) => ({ label: signal, role: "signal" as const, timeline: accountOf(rule, history.accounts, signal).live })),
    ...[...witnesses.full.references].map(([subject, reference]) => ({ label: subject, role: "reference" as const, timeline: confirmedTimeline(reference) })),
    { label: spec.name, role: "rule", timeline: replayed.condition },
  ];
}

/** The lanes from {@link MOMENT_BEFORE_MS} before `from` to {@link MOMENT_AFTER_MS} after `to`, cut to the period. */
export function excerptAround(lanes: readonly LaneHistory[], from: number, to: number): Excerpt {
  const start = Math.max(from - MOMENT_BEFORE_MS, ...lanes.map(({ timeline }) => timeline.start));
  const end = Math.min(to + MOMENT_AFTER_MS, ...lanes.map(({ timeline }) => timeline.end));
  return { from: start, to: end, lanes: lanes.map(({ label, role, timeline }) => ({ label, role, steps: stepsOf(restrict(timeline, start, end)) })) };
}

/** For every firing that was wrong or could not be verified: an excerpt of the rule's lanes around it. */
export function ruleMoments(firings: readonly Firing[], lanes: readonly LaneHistory[]): Moment[] {
  return firings.filter((firing) => firing.outcome !== "right").map((firing) => ({ firing: firing.id, ...excerptAround(lanes, firing.at, firing.at) }));
}

function stepsOf(timeline: Timeline): Lane["steps"] {
  return Array.from(timeline.times, (instant, i) => [instant, laneStates[timeline.states[i] as TruthState]] as const);
}

/**
 * What every signal said, what most likely happened, and what became of each part of each rule, over the whole period.
 */
export function historiesOf(site: Site, { accounts, book }: Pick<History, "accounts" | "book">, rules: readonly RuleOverHistory[]): Histories {
  return {
    signals: site.signals.flatMap(({ id, subject }) => {
      const account = accounts.get(id);
      return account === undefined ? [] : [{ signal: id, subject, steps: stepsText(account.live) }];
    }),
    subjects: site.subjects.map(({ id }) => ({ subject: id, steps: stepsText(book(id, []).timeline) })),
    rules: rules.map(({ spec, replayed }) => ({ rule: spec.name, restMs: spec.restMs, steps: stepsText(replayed.condition), parts: conditionParts(spec.when, replayed.parts, site) })),
  };
}

function conditionParts(whole: Expression, evaluated: EvaluatedParts, site: Site): ConditionPart[] {
  const parts: ConditionPart[] = [];
  const places = new Map<Expression, number>();
  const place = (part: Expression): number => {
    const known = places.get(part);
    if (known !== undefined) return known;
    const made = isAtom(part) ? atom(part) : compound(part);
    places.set(part, parts.push(made) - 1);
    return parts.length - 1;
  };
  const atom = (part: Expression): ConditionPart => ({ op: "atom", count: null, of: [], text: expressionText(part, site), steps: stepsText(timelineOfPart(part, evaluated)) });
  const compound = (part: Exclude<Expression, Atom>): ConditionPart => ({
    op: part.op,
    count: part.op === "atLeast" ? part.count : null,
    of: (part.op === "not" ? [part.of] : part.of).map(place),
    text: "",
    steps: null,
  });
  place(whole);
  return parts;
}
