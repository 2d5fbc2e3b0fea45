import { durationText } from "../../ground/duration.js";
import { gridOf } from "../../statistics/steady-lag.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { SECOND_MS } from "../../ground/units.js";
import { decidingAtoms } from "../rule/deciding-atoms.js";
import { vouchersOf } from "../rule/facts.js";
import { servingOf, type WantedStretch } from "./acting.js";
import type { RuleOverHistory } from "./replay.js";

/** One wanted instant with what became of it; `firingAt` instead of the firing's id, which is not settled yet. */
export interface WantedOutcome {
  readonly stretch: WantedStretch;
  readonly at: number;
  readonly outcome: "served" | "late" | "missed";
  readonly verified: boolean;
  readonly firingAt: number | null;
  readonly delaySeconds: number | null;
  /** The firing whose rest swallowed a rise in time; null when none was swallowed. */
  readonly restedAfter: number | null;
  /** Of served ones, what there is to add; empty of all others: why they failed is worked out apart. */
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
  return { ...one, verified: false, why: `${one.why === "" ? "" : `${one.why} `}The sensors that confirm it report only every ${durationText(slowestMs)}, so nobody can say whether it came in time.` };
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
  const acted = { stretch, at, outcome, verified, firingAt, restedAfter };
  if (outcome !== "served") return { ...acted, delaySeconds: firingAt === null ? null : (firingAt - at) / SECOND_MS, why: "" };
  const why = byRest && firingAt !== null ? `It had already acted ${durationText(at - firingAt)} before and was resting.` : "";
  return { ...acted, delaySeconds: byRest || firingAt === null ? null : (firingAt - at) / SECOND_MS, why };
}
