/* eslint-disable @typescript-eslint/no-non-null-assertion -- `overlap` gives nine totals, one for each pair of states */
import type { Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";
import { wilsonEstimate } from "../../statistics/wilson.js";
import { overlap } from "../../timeline/overlap.js";
import { restrict } from "../../timeline/restrict.js";
import { OFF, ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { chargingTimeline } from "../../truth/episodes/charging.js";
import { walkTogether } from "../../timeline/walk-together.js";
import type { Reference } from "../../truth/reference/reference.js";
import { because } from "./units.js";
import type { Estimate } from "../../result/estimate.js";
import type { JudgedAgainst } from "../../result/signals.js";

/**
 * Shares of the jointly known time in which a signal said what the reference says: in all, and by the reference's
 * state.
 */
interface Agreement {
  readonly agreement: Estimate;
  readonly agreementGivenOn: Estimate;
  readonly agreementGivenOff: Estimate;
}

/**
 * Agreement by share of *time*, each with a score interval whose looks are the reference's stretches between
 * transitions (see {@link countLooks}): a month of silence is one look, not two million. That interval is approximate:
 * stretches differ in length, and a signal may be wrong for part of one.
 */
export function agreementWith(account: Timeline, reference: Timeline, confidence: number): Agreement {
  const totals = overlap(account, reference);
  const right = { off: totals[OFF * 3 + OFF]!, on: totals[ON * 3 + ON]! };
  const wrong = { off: totals[ON * 3 + OFF]!, on: totals[OFF * 3 + ON]! };
  const looks = countLooks(account, reference);
  const share = (agreeing: number, differing: number, count: number, why: string): Estimate =>
    because(wilsonEstimate(agreeing + differing === 0 ? 0 : agreeing / (agreeing + differing), count, confidence), why);
  return {
    agreement: share(
      right.off + right.on,
      wrong.off + wrong.on,
      looks.off + looks.on,
      "the signal and what happened were never known at the same time",
    ),
    agreementGivenOn: share(right.on, wrong.on, looks.on, "nothing else ever said on while the signal was known"),
    agreementGivenOff: share(
      right.off,
      wrong.off,
      looks.off,
      "nothing else ever said off while the signal was known",
    ),
  };
}

/** Milliseconds in which both timelines are known. */
function jointlyKnownMs(account: Timeline, reference: Timeline): number {
  const totals = overlap(account, reference);
  return totals[OFF * 3 + OFF]! + totals[OFF * 3 + ON]! + totals[ON * 3 + OFF]! + totals[ON * 3 + ON]!;
}

/**
 * How many stretches of the reference, by its state, were seen by the account for at least part of their time. A
 * stretch lasts from one transition to the next; unknown time in between does not break it in two.
 */
export function countLooks(account: Timeline, reference: Timeline): { off: number; on: number } {
  const looks = { off: 0, on: 0 };
  let stretchState = UNKNOWN as number;
  let seen = false;
  walkTogether([account, reference], (_from, _to, [accountState, referenceState]) => {
    if (referenceState === UNKNOWN) return;
    if (referenceState !== stretchState) {
      stretchState = referenceState;
      seen = false;
    }
    if (seen || accountState === UNKNOWN) return;
    seen = true;
    if (referenceState === ON) looks.on += 1;
    else looks.off += 1;
  });
  return looks;
}

/**
 * Who a signal was judged against: hours of `period` by basis (they add up to the period), and every signal that
 * vouched.
 */
export function judgedAgainst(account: Timeline, reference: Reference, period: Interval): JudgedAgainst {
  const hours = { diary: 0, several: 0, one: 0, none: 0 };
  const witnesses = new Set<string>();
  for (const segment of reference.segments) {
    const length = Math.min(segment.to, period.to) - Math.max(segment.from, period.from);
    if (length <= 0) continue;
    hours[segment.basis] += length / HOUR_MS;
    for (const voucher of segment.vouchers) witnesses.add(voucher);
  }
  const within = (timeline: Timeline): Timeline => restrict(timeline, period.from, period.to);
  const charged = jointlyKnownMs(within(account), within(chargingTimeline(reference)));
  const known = jointlyKnownMs(within(account), within(reference.timeline));
  return { hours, jointHours: { charged: charged / HOUR_MS, disputed: (known - charged) / HOUR_MS }, witnesses: [...witnesses].sort() };
}
