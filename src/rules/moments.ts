import type { RuleSpec } from "../site/site.js";
import type { SignalAccount } from "../signals/account.js";
import { restrict } from "../timeline/restrict.js";
import type { Timeline, TruthState } from "../timeline/timeline.js";
import { vouchedTimeline, type Facts } from "./facts.js";
import { laneStates, type JudgedFiring, type Lane, type RuleMoment } from "./judgement.js";

/** An excerpt begins this long before the firing: long enough for an arrival to have built up. Our own choice. */
export const MOMENT_BEFORE_MS = 15 * 60_000;
/** And ends this long after it. Our own choice. */
export const MOMENT_AFTER_MS = 10 * 60_000;

/**
 * For every firing that was wrong or could not be verified: what each signal of the rule said, what most likely was so,
 * and what the rule made of it. Cut to the period. Signals as the rule saw them at the time; references with all witnesses.
 */
export function ruleMoments(
  rule: RuleSpec,
  signals: readonly string[],
  firings: readonly JudgedFiring[],
  accounts: ReadonlyMap<string, SignalAccount>,
  full: Facts,
  condition: Timeline,
): RuleMoment[] {
  const histories: { readonly label: string; readonly role: Lane["role"]; readonly timeline: Timeline }[] = [
    ...signals.flatMap((signal) => {
      const account = accounts.get(signal);
      return account === undefined ? [] : [{ label: signal, role: "signal" as const, timeline: account.live }];
    }),
    ...[...full.references].map(([subject, reference]) => ({ label: subject, role: "reference" as const, timeline: vouchedTimeline(reference) })),
    { label: rule.name, role: "rule", timeline: condition },
  ];
  return firings
    .filter((firing) => firing.outcome !== "right")
    .map((firing) => {
      const from = Math.max(condition.start, firing.at - MOMENT_BEFORE_MS);
      const to = Math.min(condition.end, firing.at + MOMENT_AFTER_MS);
      return { firing: firing.id, from, to, lanes: histories.map(({ label, role, timeline }) => ({ label, role, steps: stepsOf(restrict(timeline, from, to)) })) };
    });
}

function stepsOf(timeline: Timeline): Lane["steps"] {
  return Array.from(timeline.times, (instant, i) => [instant, laneStates[timeline.states[i] as TruthState]] as const);
}
