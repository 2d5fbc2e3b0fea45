import type { SignalCounts } from "../../result/counts-schema.js";
import type { Change } from "../../result/months-schema.js";
import { medianOf } from "../../statistics/median.js";
import { medianTestPValue } from "../../statistics/median-test.js";

/** What a comparison is about. */
export type Measure = Change["measure"];

/** One comparison, its p-value not yet adjusted. */
export interface Compared {
  /** The signal; of clocks, the source whose stamps are later or earlier than those of `against`. */
  readonly signal: string;
  readonly against: string | null;
  readonly measure: Measure;
  readonly unit: string;
  readonly before: number | null;
  readonly now: number | null;
  readonly pValue: number;
  /** The figure of each earlier period by itself. */
  readonly each: readonly (number | null)[];
  /** A difference up to this is never reported, however certain: something harmless may cause it. In `unit`. */
  readonly least: number;
}

/** Whether two periods' counts are of one sensor: one that watches something else, or was replaced, is not compared. */
export function isSameSensor(a: SignalCounts, b: SignalCounts): boolean {
  return a.subject === b.subject && a.kind === b.kind && a.model === b.model && a.firmware === b.firmware;
}

/**
 * A comparison of medians: the values of this period against those of all earlier ones together
 * ({@link medianTestPValue}).
 */
export function medians(
  what: Pick<Compared, "signal" | "against" | "measure" | "unit" | "least">,
  now: readonly number[],
  before: readonly (readonly number[])[],
): Compared {
  const earlier = before.flat();
  return {
    ...what,
    before: medianOf(earlier),
    now: medianOf(now),
    pValue: medianTestPValue(now, earlier),
    each: before.map((one) => medianOf(one)),
  };
}
