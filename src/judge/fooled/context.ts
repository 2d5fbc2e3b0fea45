import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import { difference, union, type Interval } from "../../ground/intervals.js";
import type { RuleOverHistory } from "../replay/replay.js";
import type { FaultRates } from "./fault-rates.js";
import { jointHistory, type JointHistory } from "./joint-history.js";
import { marginOf, type Margin } from "./margin.js";

/** What every question about fooling one rule is asked of. */
export interface FooledContext {
  readonly rule: RuleOverHistory;
  /** What all of the rule's claims were at once, over time, and how far each such situation is from firing. */
  readonly situations: JointHistory;
  readonly margin: Margin;
  readonly wrong: WrongTime;
  /** How often each signal was measured to lie. */
  readonly faults: FaultRates;
}

/** Prepares the questions for one rule. */
export function fooledContext(rule: RuleOverHistory, faults: FaultRates): FooledContext {
  const situations = jointHistory(rule.leaves, rule.replayed.parts);
  const { outside, full } = rule.witnesses;
  return { rule, situations, margin: marginOf(rule, situations), wrong: wrongTime(outside.truth, full.truth, rule.tolerance.earlyMs), faults };
}

/** When firing would have been judged wrong: disjoint intervals in order. */
export interface WrongTime {
  /** A witness outside the rule, or the diary, says so. */
  readonly verified: readonly Interval[];
  /** Also where nobody outside the rule can tell and all witnesses together say so. */
  readonly looked: readonly Interval[];
}

/**
 * The instants at which a firing would be judged wrong, by the same measure as the firings themselves (`judgeFiring`):
 * the facts do not hold then nor within `earlyMs` after. `outside` leaves out the rule's own signals, `full` has all.
 * What nobody can tell is in neither.
 */
export function wrongTime(outside: Timeline, full: Timeline, earlyMs: number): WrongTime {
  const verified = throughoutAhead(outside, earlyMs);
  const outsideRight = union(stretches(outside, ON).map(({ from, to }) => ({ from: from - earlyMs, to })));
  return { verified, looked: union([...verified, ...difference(throughoutAhead(full, earlyMs), outsideRight)]) };
}

/** The instants `t` at which `x` is off all through `[t, t + aheadMs]`. */
function throughoutAhead(x: Timeline, aheadMs: number): Interval[] {
  return union(stretches(x, OFF).map(({ from, to }) => ({ from, to: to - aheadMs })));
}
