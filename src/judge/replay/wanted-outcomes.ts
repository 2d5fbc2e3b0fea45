import { durationText } from "../../site/duration.js";
import { gridOf } from "../../statistics/steady-lag.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { SECOND_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import { decidingAtoms, fewestBlocking } from "../rule/deciding-atoms.js";
import { vouchersOf } from "../rule/facts.js";
import { servingOf, servingWindow, type WantedStretch } from "./acting.js";
import { atomsText } from "./firing-outcomes.js";
import type { RuleOverHistory } from "./replay.js";

/** One wanted instant with what became of it; `firingAt` instead of the firing's id, which is not settled yet. */
export interface WantedOutcome {
  readonly at: number;
  readonly outcome: "served" | "late" | "missed";
  readonly verified: boolean;
  readonly firingAt: number | null;
  readonly delaySeconds: number | null;
  readonly why: string;
}

/** What became of each wanted stretch that counts, in time order: see `countedStretches` and `servingOf`. */
export function wantedOutcomes(rule: RuleOverHistory): WantedOutcome[] {
  return rule.wanted.counted.map((stretch) => inTimeForCertain(outcomeOf(stretch, rule), rule));
}

/**
 * A sensor read every five minutes reports an arrival up to five minutes late, so a rule that acts three minutes late
 * seems to act in time. "Served" only counts as verified if it was in time even if the event came that much earlier.
 */
function inTimeForCertain(one: WantedOutcome, { witnesses: { outside }, tolerance, history }: RuleOverHistory): WantedOutcome {
  if (!one.verified || one.outcome !== "served" || one.firingAt === null) return one;
  const atoms = decidingAtoms(outside.expression, outside.parts, one.at).map(({ atom }) => atom);
  // The diary has no account: a person writes down what they know.
  const slowestMs = Math.max(0, ...vouchersOf(atoms, outside, one.at).map((voucher) => readEveryMs(history.accounts.get(voucher))));
  if (one.firingAt - one.at + slowestMs <= tolerance.withinMs || slowestMs === 0) return one;
  return { ...one, verified: false, why: `${one.why === "" ? "" : `${one.why} `}Those who confirm it are read every ${durationText(slowestMs)}: nobody can say whether it came in time.` };
}

/** With fewer changes than this a common grid may be chance. Our own choice. */
const LEAST_CHANGES = 10;

/**
 * How coarsely a signal's changes are reported, in milliseconds: five minutes where all are whole multiples of five
 * minutes apart. 0 where they are reported at once.
 */
function readEveryMs(account: SignalAccount | undefined): number {
  const changes = account?.account.times.subarray(1) ?? [];
  return changes.length < LEAST_CHANGES ? 0 : gridOf(changes);
}

function outcomeOf(stretch: WantedStretch, rule: RuleOverHistory): WantedOutcome {
  const { from: at, verified } = stretch;
  const { outcome, firingAt, byRest, restedAfter } = servingOf(stretch, rule.replayed, rule);
  const acted = { at, outcome, verified, firingAt };
  if (outcome === "served") {
    const why = byRest && firingAt !== null ? `Already acted ${durationText(at - firingAt)} before; the rule was at rest.` : "";
    return { ...acted, delaySeconds: byRest || firingAt === null ? null : (firingAt - at) / SECOND_MS, why };
  }
  const why = restedAfter === null ? obstacleText(servingWindow(at, rule.tolerance), rule) : `The rule was at rest after its firing ${durationText(at - restedAfter)} before.`;
  return { ...acted, delaySeconds: firingAt === null ? null : (firingAt - at) / SECOND_MS, why };
}

/** What stood in the way, at the instant of the window at which the fewest atoms did. */
function obstacleText({ from, to }: Interval, { spec, site, replayed }: RuleOverHistory): string {
  const blocking = fewestBlocking(spec.when, replayed.parts, from, to);
  return blocking.length === 0 ? "The condition had been true before and did not become true anew." : `Stood in the way: ${atomsText(blocking, site)}.`;
}
