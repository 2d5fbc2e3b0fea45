import type { Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";
import { firstWhere } from "../../ground/search.js";
import { atomsOf } from "../rule/condition.js";
import type { Expression } from "../../site/expression.js";
import type { ReferenceBook, ReferenceSegment } from "../../truth/reference/reference.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import { connectedTo } from "../../site/cause-groups.js";
import { firingOutcome } from "../replay/firing-outcomes.js";
import { countedStretches } from "../replay/acting.js";
import { type RuleOverHistory } from "../replay/replay.js";
import { witnessesOf } from "../rule/facts.js";
import type { RuleFinding } from "../../result/rules.js";

/** A firing or a wanted instant that nobody confirms. */
export interface Moment {
  /** The firing's id, or `RULE, wanted N`. */
  readonly id: string;
  readonly sort: "firing" | "wanted";
  readonly at: number;
  /** What all sensors together make of it; a wanted instant that was missed or late looks wrong. */
  readonly looks: "right" | "wrong" | "unclear";
}

/** The moments of a rule that nobody confirms, as its finding has them. */
export function unverifiedMoments({ name, firingList, wantedList }: Pick<RuleFinding, "name" | "firingList" | "wantedList">): Moment[] {
  return [
    ...firingList.flatMap(({ id, at, outcome, looks }): Moment[] => (outcome === "unverified" ? [{ id, sort: "firing", at, looks }] : [])),
    ...wantedList.flatMap(({ at, verified, outcome }, i): Moment[] => (verified ? [] : [{ id: `${name}, wanted ${i + 1}`, sort: "wanted", at, looks: outcome === "served" ? "right" : "wrong" }])),
  ];
}

/**
 * The moments that nobody would confirm if there were no diary. They stay the same however many questions were
 * answered; so do the times that questions are made of.
 */
export function momentsWithoutDiary(rule: RuleOverHistory, bare: ReferenceBook): Pick<Moment, "sort" | "at">[] {
  const witnesses = witnessesOf(rule, { ...rule.history, book: bare });
  return [
    ...rule.replayed.firings.flatMap((at) => (firingOutcome(at, rule, witnesses.outside) === "unverified" ? [{ sort: "firing" as const, at }] : [])),
    ...countedStretches(rule, witnesses).counted.flatMap(({ from: at, verified }) => (verified ? [] : [{ sort: "wanted" as const, at }])),
  ];
}

/** The rule over its history with another book of references. */
export function withBook(rule: RuleOverHistory, book: ReferenceBook): RuleOverHistory {
  const history = { ...rule.history, book };
  const witnesses = witnessesOf(rule, history, rule.spec.rightWhen, rule.witnesses);
  return { ...rule, history, witnesses, wanted: countedStretches(rule, witnesses) };
}

/** Answers reach this far beyond what a rule's facts look at, so that a few seconds leave no moment open. Our own choice. */
const AROUND_MS = MINUTE_MS;

/** The time that the facts of a moment look at a subject, a minute more on both sides, within the period: for one moment of the rule after another. */
export function lookingAt({ spec, tolerance: { earlyMs, withinMs }, history: { period } }: RuleOverHistory, subject: string): (moment: Pick<Moment, "sort" | "at">) => Interval {
  const reachMs = reachOf(spec.rightWhen, subject);
  return ({ sort, at }) => {
    const [before, after] = sort === "firing" ? [0, earlyMs] : [earlyMs, withinMs];
    return { from: Math.max(period.from, at - before - reachMs - AROUND_MS), to: Math.min(period.to, at + after + AROUND_MS) };
  };
}

/** Whether witnesses outside the rule, or the diary, tell of the subject throughout a time: for one time after another, by binary search. */
export function tellingOf(rule: RuleOverHistory, book: ReferenceBook, subject: string): (time: Interval) => boolean {
  const untold = book(subject, connectedTo(rule.signals, rule.history.groups)).segments.filter((one) => !isVerified(one));
  return ({ from, to }) => {
    const next = untold[firstWhere(untold.length, (i) => (untold[i]?.to ?? Infinity) > from)];
    return next === undefined || next.from >= to;
  };
}

function isVerified({ basis, state }: ReferenceSegment): boolean {
  return (basis === "diary" || basis === "several") && state !== UNKNOWN;
}

/** How far back the facts look at a subject, in milliseconds. */
function reachOf(expression: Expression, subject: string): number {
  return Math.max(0, ...atomsOf(expression).map((atom) => (atom.ref !== subject ? 0 : atom.op === "turned" ? atom.withinMs : Math.max(atom.heldMs ?? 0, atom.recentlyMs ?? 0))));
}

/** The states of a subject that the facts ask for: `here` for an arrival, `away` for a departure. */
export function statesAsked(expression: Expression, subject: string): ReadonlySet<0 | 1> {
  return new Set(atomsOf(expression).flatMap((atom) => (atom.ref !== subject ? [] : [atom.op === "turned" ? atom.to : atom.state])));
}
