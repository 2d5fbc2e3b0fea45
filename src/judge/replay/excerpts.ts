import type { RuleSpec } from "../../site/site.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { restrict } from "../../timeline/restrict.js";
import type { Timeline, TruthState } from "../../timeline/timeline.js";
import { vouchedTimeline, type Facts } from "../rule/facts.js";
import { laneStates, type Excerpt, type Lane } from "../judgement.js";

/** An excerpt begins this long before what it shows: long enough for an arrival to have built up. Our own choice. */
export const MOMENT_BEFORE_MS = 15 * 60_000;
/** And ends this long after it. Our own choice. */
export const MOMENT_AFTER_MS = 10 * 60_000;

/** What one lane of a rule's timing diagrams is cut from: a history over the whole period. */
export interface LaneHistory {
  readonly label: string;
  readonly role: Lane["role"];
  readonly timeline: Timeline;
}

/**
 * The lanes of a rule's timing diagrams: what each signal of the rule said, what most likely was so, and what the rule made
 * of it (`condition`). Signals as the rule saw them at the time; references with all witnesses.
 */
export function laneHistories(rule: RuleSpec, signals: readonly string[], accounts: ReadonlyMap<string, SignalAccount>, full: Facts, condition: Timeline): LaneHistory[] {
  return [
    ...signals.flatMap((signal) => {
      const account = accounts.get(signal);
      return account === undefined ? [] : [{ label: signal, role: "signal" as const, timeline: account.live }];
    }),
    ...[...full.references].map(([subject, reference]) => ({ label: subject, role: "reference" as const, timeline: vouchedTimeline(reference) })),
    { label: rule.name, role: "rule", timeline: condition },
  ];
}

/** The lanes from {@link MOMENT_BEFORE_MS} before `from` to {@link MOMENT_AFTER_MS} after `to`, cut to the period. */
export function excerptAround(histories: readonly LaneHistory[], from: number, to: number): Excerpt {
  const start = Math.max(from - MOMENT_BEFORE_MS, ...histories.map(({ timeline }) => timeline.start));
  const end = Math.min(to + MOMENT_AFTER_MS, ...histories.map(({ timeline }) => timeline.end));
  return { from: start, to: end, lanes: histories.map(({ label, role, timeline }) => ({ label, role, steps: stepsOf(restrict(timeline, start, end)) })) };
}

function stepsOf(timeline: Timeline): Lane["steps"] {
  return Array.from(timeline.times, (instant, i) => [instant, laneStates[timeline.states[i] as TruthState]] as const);
}
