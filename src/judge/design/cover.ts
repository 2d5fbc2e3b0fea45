import { durationText } from "../../ground/duration.js";
import { MINUTE_MS } from "../../ground/units.js";
import type { Expression } from "../../site/expression.js";
import { atomsOf } from "../rule/condition.js";
import type { PreparedRule } from "../rule/prepare.js";
import type { SignalLags } from "../gap/gap.js";

/** Windows are proposed in steps of this, so that they are easy to read. */
const STEP_MS = 5 * MINUTE_MS;

/** Whether what makes the rule right lasts as long as what makes it fire. */
export interface CoverCheck {
  readonly holds: boolean;
  /** The shortest window `right_when` may have: the rule's longest window and the most its sensors lag. */
  readonly neededMs: number;
  readonly text: string;
  /** The window that holds, as the site file has it; absent where it holds. */
  readonly line?: string;
}

/**
 * After a real arrival a phone stays truthfully "just arrived" for as long as the rule's window. If `right_when` ends
 * sooner, one false report of a meter in between is enough to fire wrongly, and no reckoning with two faults sees it.
 * So each window of `right_when` must be at least the rule's longest window and the largest usual lag of its signals.
 */
export function coverOf(rule: PreparedRule, lags: SignalLags): CoverCheck {
  const windowMs = Math.max(0, ...rule.leaves.map(({ atom }) => (atom.op === "turned" ? atom.withinMs : (atom.recentlyMs ?? 0))));
  const lagMs = Math.max(0, ...rule.signals.map((signal) => lags.get(signal)?.mostMs ?? 0));
  const neededMs = windowMs + lagMs;
  const shortest = Math.min(...windowsOf(rule.spec.rightWhen));
  if (shortest >= neededMs) return { holds: true, neededMs, text: `right_when lasts at least as long as the rule's own windows (${durationText(windowMs)}) plus the delay of its sensors (${inMinutes(lagMs)}).` };
  const line = `within: ${durationText(Math.ceil(neededMs / STEP_MS) * STEP_MS)}`;
  return {
    holds: false,
    neededMs,
    line,
    text:
      `right_when ends ${durationText(shortest)} after an arrival; the rule's own windows last ${durationText(windowMs)}, and its sensors are up to ${inMinutes(lagMs)} late. ` +
      `In between, one false report is enough. For a proof by design, write “${line}” in right_when: an unlock that late after a real arrival then counts as right.`,
  };
}

/** How far back each turn in the expression may lie; none where it only asks for states. */
function windowsOf(expression: Expression): number[] {
  return atomsOf(expression).flatMap((atom) => (atom.op === "turned" ? atom.withinMs : (atom.recentlyMs ?? [])));
}

function inMinutes(lagMs: number): string {
  return durationText(Math.round(lagMs / 1000) * 1000);
}
