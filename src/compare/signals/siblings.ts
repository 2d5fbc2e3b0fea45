/* eslint-disable @typescript-eslint/no-non-null-assertion -- `overlap` gives nine totals, one for each pair of states */
import { sum } from "d3-array";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { SignalSpec } from "../../site/site.js";
import { kappaEstimate } from "../../statistics/kappa.js";
import { wilsonEstimate } from "../../statistics/wilson.js";
import { overlap } from "../../timeline/overlap.js";
import type { Timeline } from "../../timeline/timeline.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { countLooks } from "./agreement.js";
import { because, noEstimate } from "./units.js";
import type { Sibling } from "../../result/signals.js";

const NEVER_TOGETHER = "the two were never known at the same time";

/**
 * A signal beside each other signal of its subject, in the order of `others`. Siblings agree whether or not either is
 * right: two contacts on one board can be wrong together, hence `sharedCauses`.
 */
export function siblingsOf(
  signal: SignalSpec,
  others: readonly SignalSpec[],
  accounts: ReadonlyMap<string, SignalAccount>,
  confidence: number,
): Sibling[] {
  return others.map((other) => {
    const own = accounts.get(signal.id)?.account;
    const theirs = accounts.get(other.id)?.account;
    const sharedCauses = signal.shares.filter((cause) => other.shares.includes(cause)).sort();
    if (own === undefined || theirs === undefined) {
      return { signal: other.id, agreement: noEstimate("share", NEVER_TOGETHER), kappa: noEstimate("kappa", NEVER_TOGETHER), sharedCauses };
    }
    return { signal: other.id, ...sideBySide(own, theirs, confidence), sharedCauses };
  });
}

/**
 * Agreement and kappa of two signals by share of the jointly known time; the same either way round. One vote a second
 * would feign certainty, and one vote for each joint segment would weigh a lag of seconds as much as a night: so time
 * gives the value, and the number of looks behind the interval is the number of stretches of the signal that changed
 * less often. The kappa table is the table of time shares times the looks. Both intervals are approximate.
 */
function sideBySide(first: Timeline, second: Timeline, confidence: number): Pick<Sibling, "agreement" | "kappa"> {
  const totals = overlap(first, second);
  const table = [OFF, ON].map((row) => [OFF, ON].map((column) => totals[row * 3 + column]!));
  const jointMs = sum(table.flat());
  if (jointMs === 0) return { agreement: noEstimate("share", NEVER_TOGETHER), kappa: noEstimate("kappa", NEVER_TOGETHER) };
  const looksOf = (counted: { off: number; on: number }): number => counted.off + counted.on;
  const looks = Math.min(looksOf(countLooks(first, second)), looksOf(countLooks(second, first)));
  return {
    agreement: because(wilsonEstimate((totals[OFF * 3 + OFF]! + totals[ON * 3 + ON]!) / jointMs, looks, confidence), NEVER_TOGETHER),
    kappa: kappaEstimate(
      table.map((row) => row.map((ms) => (ms / jointMs) * looks)),
      confidence,
    ),
  };
}
