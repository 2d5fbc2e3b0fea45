import type { RetellableAccounts } from "../../truth/signals/accounts.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Band } from "../../site/site.js";
import { durations } from "../../timeline/durations.js";
import { restrict } from "../../timeline/restrict.js";
import type { Timeline } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";
import { SECOND_MS, YEAR_MS } from "../../ground/units.js";
import { actedOn, servingOf } from "../replay/acting.js";
import { firingOutcome } from "../replay/firing-outcomes.js";
import { accountOf, heardLive, type RuleOverHistory } from "../replay/replay.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";
import { changedCondition, type Difference } from "./settings.js";
import type { FiringOutcome } from "../../result/rules.js";

/** What a rule with some setting did in one stretch of the history. */
export interface TrialOutcome {
  readonly firings: number;
  readonly wrong: number;
  readonly unverified: number;
  readonly wanted: number;
  readonly late: number;
  readonly missed: number;
  /** From each wanted instant that was served or late to its firing; those served by a rest have none. */
  readonly delaysSeconds: readonly number[];
  /** Years during which the condition was known. */
  readonly yearsSeen: number;
}

/** What a rule did on the first part of the history, and on the rest. */
export interface SplitOutcome {
  readonly train: TrialOutcome;
  readonly heldOut: TrialOutcome;
}

/**
 * Replays a rule with a difference in it, against the facts and wanted stretches of the rule as it stands, and counts
 * firings and wanted instants on either side of `splitAt` by their own instant. Only parts of the condition that differ
 * are evaluated.
 */
export function makeTrial(rule: RuleOverHistory, withBand: RetellableAccounts["withBand"], splitAt: number): (difference: Difference) => SplitOutcome {
  const { spec, site, tolerance, history, replayed, witnesses, wanted } = rule;
  const accountIn = makeAccountIn(rule, withBand);
  return (difference) => {
    const when = changedCondition(spec.when, difference);
    const known: Pick<EvaluatedParts, "get"> = { get: (part) => (hasOtherBand(part, difference) ? undefined : replayed.parts.get(part)) };
    const condition = timelineOfPart(when, evaluateParts(when, (ref) => heardLive(accountIn(ref, difference.bands.get(ref) ?? null)), site.bridgeMs, known));
    const acted = actedOn(condition, difference.restMs ?? spec.restMs);
    const firings = acted.firings.map((at) => ({ at, outcome: firingOutcome(at, rule, witnesses.outside) }));
    const servings = wanted.counted.map((stretch) => {
      const { outcome, firingAt, byRest } = servingOf(stretch, acted, rule);
      // A longer rest must not pass for having acted already where the present one would not: the door may be locked
      // again.
      const restTooLong = byRest && firingAt !== null && stretch.from - firingAt > spec.restMs + tolerance.earlyMs;
      return { at: stretch.from, outcome: restTooLong ? ("missed" as const) : outcome, delaySeconds: firingAt === null || byRest ? null : (firingAt - stretch.from) / SECOND_MS };
    });
    const within = ({ from, to }: Interval): TrialOutcome => {
      const inside = ({ at }: { readonly at: number }): boolean => at >= from && at < to;
      return trialOutcome(firings.filter(inside), servings.filter(inside), knownYears(condition, { from, to }));
    };
    return { train: within({ from: history.period.from, to: splitAt }), heldOut: within({ from: splitAt, to: history.period.to }) };
  };
}

interface Served {
  readonly outcome: "served" | "late" | "missed";
  readonly delaySeconds: number | null;
}

function trialOutcome(firings: readonly { readonly outcome: FiringOutcome }[], servings: readonly Served[], yearsSeen: number): TrialOutcome {
  const fired = (outcome: FiringOutcome): number => firings.filter((one) => one.outcome === outcome).length;
  const served = (outcome: Served["outcome"]): number => servings.filter((one) => one.outcome === outcome).length;
  return {
    firings: firings.length,
    wrong: fired("wrong"),
    unverified: fired("unverified"),
    wanted: servings.length,
    late: served("late"),
    missed: served("missed"),
    delaysSeconds: servings.flatMap((one) => (one.delaySeconds === null ? [] : [one.delaySeconds])),
    yearsSeen,
  };
}

function knownYears(condition: Timeline, { from, to }: Interval): number {
  const { onMs, offMs } = durations(restrict(condition, from, to));
  return (onMs + offMs) / YEAR_MS;
}

function hasOtherBand(part: Expression, { bands }: Difference): boolean {
  return bands.size > 0 && expressionRefs(part).some((ref) => bands.has(ref));
}

/** Works out the account of each other band of a signal once. */
function makeAccountIn(rule: RuleOverHistory, withBand: RetellableAccounts["withBand"]): (signal: string, band: Band | null) => SignalAccount {
  const retold = new Map<string, SignalAccount>();
  return (signal, band) => {
    const plain = accountOf(rule, rule.history.accounts, signal);
    if (band === null) return plain;
    const key = JSON.stringify([signal, band.nearMetres, band.farMetres]);
    const account = retold.get(key) ?? withBand(signal, band);
    retold.set(key, account);
    return account;
  };
}
