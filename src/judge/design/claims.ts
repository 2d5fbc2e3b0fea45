import type { DesignHistory, DesignRoad, LimitClaim } from "../../result/design.js";
import { MONTHS_PER_YEAR } from "../../ground/units.js";
import { wrongBoundAfter, type RuleFigures } from "../evidence/figures.js";
import type { Standard } from "../rule/prepare.js";
import { keptDays } from "./day-types.js";
import { joinedHistories } from "./history.js";
import { designBound, seenLongEnough } from "./road.js";

/** Further months that claims look ahead. */
const AHEAD_MONTHS = [0, 3, 6, 12, 24] as const;

/** Conditions that more months may still fulfil. */
const OPEN_TO_TIME = ["months"];

/**
 * The smallest limit on wrong firings a year that each road supports now, and after 3, 6, 12 and 24 more months like
 * those seen. Null where a road supports none: an hour of the day is never confirmed, or parts cannot be taken as
 * independent. `history` is that of all periods.
 */
export function limitClaims(figures: RuleFigures, design: DesignRoad | null, history: DesignHistory | null, standard: Standard): LimitClaim[] {
  const months = figures.evidence.yearsSeen * MONTHS_PER_YEAR;
  if (months === 0) return AHEAD_MONTHS.map((more) => ({ moreMonths: more, byCounting: null, byDesign: null }));
  return AHEAD_MONTHS.map((more) => {
    const times = (months + more) / months;
    const counting = wrongBoundAfter(figures, times, standard.confidence);
    return { moreMonths: more, byCounting: Number.isFinite(counting) ? counting : null, byDesign: designAfter(times, months + more, design, history, standard) };
  });
}

function designAfter(times: number, months: number, design: DesignRoad | null, history: DesignHistory | null, { confidence }: Standard): number | null {
  if (design === null || history === null) return null;
  if (design.conditions.some((one) => !one.holds)) return null;
  const closed = (design.figures?.conditions ?? []).some((one) => !one.holds && !OPEN_TO_TIME.includes(one.code));
  const longer = extended(history, times);
  if (closed || !seenLongEnough(keptDays(longer.days), Math.round(months))) return null;
  const { bound } = designBound(longer, design, confidence);
  return Number.isFinite(bound) ? bound : null;
}

/** The history repeated until it is `times` as long; the last copy is cut at a day. */
function extended(history: DesignHistory, times: number): DesignHistory {
  const days = Math.round(history.days.length * times);
  let long = history;
  while (long.days.length < days) long = joinedHistories(long, history);
  const cut = days / long.days.length;
  return {
    ...long,
    days: long.days.slice(0, days),
    years: long.years * cut,
    parts: [cutTo(long.parts[0], days), cutTo(long.parts[1], days)],
  };
}

function cutTo(part: DesignHistory["parts"][number], days: number): DesignHistory["parts"][number] {
  return { ...part, stretches: part.stretches.filter((one) => one.day < days) };
}
