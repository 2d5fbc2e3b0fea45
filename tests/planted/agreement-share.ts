import { overlap } from "../../src/timeline/overlap.js";
import { restrict } from "../../src/timeline/restrict.js";
import type { Timeline } from "../../src/timeline/timeline.js";
import type { Interval } from "../../src/ground/intervals.js";

/** The share of the time known to both in which what a sensor said was true. */
export function agreementShare(said: Timeline, truth: Timeline, period: Interval): number {
  const totals = overlap(restrict(said, period.from, period.to), restrict(truth, period.from, period.to));
  const agreed = totals[0]! + totals[4]!;
  return agreed / (agreed + totals[1]! + totals[3]!);
}
