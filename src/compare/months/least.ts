import type { Counts, SignalCounts } from "../../result/counts.js";
import { DAYS_PER_MONTH } from "../../ground/units.js";
import type { Measure } from "./compared.js";

/** From this share of what the site accepts on, a difference matters. Our own choice. */
const MATTERS = 0.5;
/** A lag that a window of a rule feels: this share of how late a sensor may be. Our own choice. */
const LAG_MATTERS = 1 / 6;
/** Fewer events than this in 30 days are no news. Our own choice. */
const LEAST_EVENTS = 1;

/**
 * The smallest difference that is news at this site, in the unit of the measure: measured by what its own site file accepts of a
 * sensor (`limits.sensors`). A smaller one is never told, however certain it is. Of counts of an older version, which kept no limits,
 * nothing is told of what has one.
 */
export function leastThatMatters(measure: Measure, { turns, judgedDays }: Pick<SignalCounts, "turns" | "judgedDays">, { upkeep }: Pick<Counts, "upkeep">): number {
  const limits = upkeep?.limits;
  switch (measure) {
    case "missed visits":
      return MATTERS * (limits?.missedShare ?? Infinity);
    case "known time":
      return MATTERS * (limits?.silentShare ?? Infinity);
    case "lag when arriving":
    case "lag when leaving":
      return LAG_MATTERS * (limits?.lateSeconds ?? Infinity);
    case "phantoms":
      // Accepted are so many for each change; a sensor that sees few changes may still tell one falsely a month.
      return Math.max(LEAST_EVENTS, judgedDays > 0 ? MATTERS * (limits?.falseShare ?? Infinity) * (turns / judgedDays) * DAYS_PER_MONTH : 0);
    case "silences":
    case "restarts":
      return LEAST_EVENTS;
    default:
      return 0;
  }
}
