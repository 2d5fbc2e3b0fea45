import { SECOND_MS } from "../../ground/units.js";
import type { Counts } from "../../result/counts.js";
import type { SensorLimits } from "../../site/site.js";

/** An audit held to the limits of a fleet file in place of its own. */
export function withLimits(counts: Counts, { missedShare, falseShare, silentShare, lateMs }: SensorLimits): Counts {
  if (counts.upkeep === undefined) return counts;
  return { ...counts, upkeep: { ...counts.upkeep, limits: { missedShare, falseShare, silentShare, lateSeconds: lateMs / SECOND_MS } } };
}
