import { chargingTimeline } from "../../truth/episodes/charging.js";
import type { Reference } from "../../truth/reference/reference.js";
import { restrict } from "../../timeline/restrict.js";
import type { Timeline } from "../../timeline/timeline.js";
import { jointlyKnownMs } from "./agreement.js";
import type { JudgedAgainst } from "./score.js";
import type { Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";

/** Who a signal was judged against: hours of `period` by basis (they add up to the period), and every signal that vouched. */
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
