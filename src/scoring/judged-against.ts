import type { Reference } from "../reference/reference.js";
import type { Interval } from "../timeline/timeline.js";
import type { SignalScore } from "./score.js";
import { HOUR_MS } from "./units.js";

/** Who a signal was judged against: hours of `period` by basis (they add up to the period), and every signal that vouched. */
export function judgedAgainst(reference: Reference, period: Interval): SignalScore["judgedAgainst"] {
  const hours = { diary: 0, several: 0, one: 0, none: 0 };
  const witnesses = new Set<string>();
  for (const segment of reference.segments) {
    const length = Math.min(segment.to, period.to) - Math.max(segment.from, period.from);
    if (length <= 0) continue;
    hours[segment.basis] += length / HOUR_MS;
    for (const voucher of segment.vouchers) witnesses.add(voucher);
  }
  return { hours, witnesses: [...witnesses].sort() };
}
