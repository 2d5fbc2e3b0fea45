/**
 * Drills: the whole history replayed with one fault in it.
 *
 *   accounts ─ fault ─ faulted histories ─┐
 *   rule ─ replayed parts ────────────────┴─ only parts with a faulted signal again ─ firings ─ gained, lost, missed
 */
import { type Drill, type Fault, faults } from "../../result/trials.js";
import { actedOn, servingOf, type Acted } from "../replay/acting.js";
import { firingOutcome } from "../replay/firing-outcomes.js";
import type { RuleOverHistory } from "../replay/replay.js";
import type { PreparedRule } from "../rule/prepare.js";
import { makeFaultedCondition } from "./faulted-condition.js";
import { latenessMs, type FaultedHistories } from "./faults.js";
import type { FiringOutcome } from "../../result/rules.js";

/** What a fault is put into: one signal by itself, or everything that depends on a shared cause. */
interface DrillTarget {
  readonly on: "signal" | "cause";
  readonly name: string;
  /** Those of the rule's signals that the fault takes, sorted. */
  readonly signals: readonly string[];
}

/** Every signal of the rule and every shared cause of one, in the order of their names, signals first. */
function drillTargets({ signals, causesOf }: PreparedRule): DrillTarget[] {
  const causes = [...new Set(signals.flatMap(causesOf))].sort();
  return [
    ...signals.map((name) => ({ on: "signal" as const, name, signals: [name] })),
    ...causes.map((name) => ({ on: "cause" as const, name, signals: signals.filter((signal) => causesOf(signal).includes(name)) })),
  ];
}

/**
 * Every fault in every signal of the rule and every shared cause of one. Signals the rule does not name cannot change
 * it and are left out. The facts stay those of the undisturbed history: the fault is in what the rule sees, not in what
 * happened.
 */
export function drillRule(rule: RuleOverHistory, histories: FaultedHistories): Drill[] {
  const conditionWith = makeFaultedCondition(rule, histories);
  const plain = effectOf(rule.replayed, rule);
  const remembered = new Map<string, Omit<Drill, "on" | "name">>();
  return drillTargets(rule).flatMap(({ on, name, signals }) =>
    faults.map((fault) => {
      // A cause with one signal in the rule does what that signal does.
      const key = JSON.stringify([fault, signals]);
      const result = remembered.get(key) ?? resultOf(fault, effectOf(actedOn(conditionWith(fault, signals), rule.spec.restMs), rule), plain, rule.tolerance.withinMs);
      remembered.set(key, result);
      return { on, name, ...result };
    }),
  );
}

/** What a rule's acting comes to, by the facts of the undisturbed history. */
interface Effect {
  readonly firings: readonly TimedOutcome[];
  /** For each counted wanted instant. */
  readonly missed: readonly boolean[];
}

function effectOf(acted: Acted, rule: RuleOverHistory): Effect {
  return {
    firings: acted.firings.map((at) => ({ at, outcome: firingOutcome(at, rule, rule.witnesses.outside) })),
    missed: rule.wanted.counted.map((stretch) => servingOf(stretch, acted, rule).outcome === "missed"),
  };
}

function resultOf(fault: Fault, faulted: Effect, plain: Effect, toleranceMs: number): Omit<Drill, "on" | "name"> {
  const { gained, lost } = compareFirings(plain.firings, faulted.firings, toleranceMs + latenessMs(fault));
  const of = (outcome: FiringOutcome): number => gained.filter((one) => one.outcome === outcome).length;
  return {
    fault,
    firings: faulted.firings.length,
    gained: gained.length,
    lost: lost.length,
    wrongGained: of("wrong"),
    unverifiedGained: of("unverified"),
    missedGained: faulted.missed.filter((missed, i) => missed && !plain.missed[i]).length,
  };
}

/** A firing (epoch milliseconds) with its outcome. */
interface TimedOutcome {
  readonly at: number;
  readonly outcome: FiringOutcome;
}

/** Firings that only one of two replays has, each in time order. */
interface FiringDifference {
  readonly gained: readonly TimedOutcome[];
  readonly lost: readonly TimedOutcome[];
}

/**
 * What `changed` has and `plain` has not, and the other way round. A firing that only moved, by at most `toleranceMs`
 * and with the same outcome, is neither: always pairing the earliest two finds the most pairs within a tolerance. A
 * firing that moved and thereby became wrong is one lost and one gained. Linear.
 */
function compareFirings(plain: readonly TimedOutcome[], changed: readonly TimedOutcome[], toleranceMs: number): FiringDifference {
  const gained: TimedOutcome[] = [];
  const lost: TimedOutcome[] = [];
  for (const outcome of ["right", "wrong", "unverified"] as const) {
    const before = plain.filter((one) => one.outcome === outcome);
    const after = changed.filter((one) => one.outcome === outcome);
    let i = 0;
    let j = 0;
    for (;;) {
      const [was, is] = [before[i], after[j]];
      if (was !== undefined && is !== undefined && Math.abs(is.at - was.at) <= toleranceMs) {
        i += 1;
        j += 1;
      } else if (was !== undefined && was.at < (is?.at ?? Infinity)) {
        lost.push(was);
        i += 1;
      } else if (is !== undefined) {
        gained.push(is);
        j += 1;
      } else break;
    }
  }
  const inTime = (list: TimedOutcome[]): TimedOutcome[] => list.sort((a, b) => a.at - b.at);
  return { gained: inTime(gained), lost: inTime(lost) };
}
