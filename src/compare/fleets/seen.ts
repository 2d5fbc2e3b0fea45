import { sum } from "d3-array";
import type { Fleet } from "../../result/fleet.js";
import { medianOf } from "../../statistics/median.js";
import { shareLowerBound } from "../../statistics/share.js";
import { binomialTail } from "../../statistics/tails.js";
import { type Examined, total } from "./faults/fault.js";
import { strictConfidence } from "./faults/sensor-faults.js";

/** Heard for this share of its time: all month. Our own choice. */
const WHOLE = 0.97;
/** Fewer turns than this show only what is very wrong. Our own choice. */
const FEW_TURNS = 30;
/** How often a fault is to be found. */
const MOSTLY = 0.9;

/** What was seen, for how long, and what could hide in it. */
export function seenOf(round: readonly Examined[]): Fleet["seen"] {
  const sensors = round.flatMap(({ counts, upkeep, sensors: own }) => own.map((one) => ({ ...one, confidence: strictConfidence({ counts }), limits: upkeep.limits, period: counts.period })));
  const known = sensors.map(({ counts, days, period }) => Math.min(1, counts.knownDays / Math.max(1e-9, period.days - total(days.hiddenHours) / 24)) * (total(days.hiddenHours) > 0 ? 0.5 : 1));
  const turns = sensors.map(({ counts }) => counts.turns).filter((count) => count > 0);
  const usualTurns = Math.round(medianOf(turns) ?? 0);
  const first = sensors[0];
  return {
    sensors: sensors.length,
    whole: known.filter((share) => share >= WHOLE).length,
    part: known.filter((share) => share > 0 && share < WHOLE).length,
    never: known.filter((share) => share === 0).length,
    turns: sum(turns),
    few: sensors.filter(({ counts }) => counts.turns > 0 && counts.turns < FEW_TURNS).length,
    fewerThan: FEW_TURNS,
    unchecked: sensors.filter(({ days }) => days.basis.diary + days.basis.several < days.basis.one).length,
    usualTurns,
    foundShare: first === undefined || usualTurns === 0 ? null : foundShare(usualTurns, first.limits.missedShare, first.confidence),
  };
}

/** The smallest share of wrong visits, in steps of a hundredth, that is past the limit nine times in ten. */
function foundShare(turns: number, limit: number, confidence: number): number | null {
  const visits = Math.ceil(turns / 2);
  let least = 1;
  while (least <= visits && shareLowerBound(least, visits, confidence) <= limit) least += 1;
  for (let share = 0.01; share <= 1; share += 0.01) if (binomialTail(least, visits, share) >= MOSTLY) return Math.round(share * 100) / 100;
  return null;
}
