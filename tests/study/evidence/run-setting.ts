/** Looks at histories of one setting as the program would. */
import { evenBound, timeOfDayBound } from "../../../src/judge/design/bounds.js";
import { designFigures } from "../../../src/judge/design/road.js";
import { rateUpperBound } from "../../../src/statistics/rate.js";
import type { DesignFigures } from "../../../src/result/design.js";
import { chanceNamed } from "../verdict/random.js";
import { lookedAt, MONTH_DAYS, type Looked } from "./pulses.js";
import { STATED_SHARE, type Setting } from "./settings.js";

export const CONFIDENCE = 0.95;
/** Looks at which bounds are counted one by one, in months. */
export const LOOKS = [1, 3, 6, 12] as const;
const YEAR_MONTHS = 12;
/** What the program notices is asked of so many histories at the most: random orders of days take most of the time. */
export const MOST_ASKED = 500;

/** What one look shows. Bounds and estimates a year. */
export interface Look {
  readonly months: number;
  /** F and G. */
  readonly even: number;
  readonly clock: number;
  /** Wrong firings counted, as for this look alone. */
  readonly counting: number;
  readonly program: ProgramLook | null;
}

/** What the program says: the bound with a common cause as stated, and the conditions that fail. */
export interface ProgramLook {
  readonly bound: number;
  readonly slid: number | null;
  readonly failed: readonly string[];
}

/**
 * The looks at one history, of which each is the beginning of the next: after 1, 3, 6 and 12 months, or after every month. The
 * same number gives the same history.
 */
export function looksAt(setting: Setting, history: number, everyMonth: boolean): Look[] {
  const made = setting.make(chanceNamed(`${setting.id}/${history}`), YEAR_MONTHS * MONTH_DAYS);
  const months = everyMonth ? Array.from({ length: YEAR_MONTHS }, (_, i) => i + 1) : LOOKS;
  return months.map((count) => {
    const seen = lookedAt(made, count * MONTH_DAYS);
    const asked = setting.common || (history < MOST_ASKED && isLook(count));
    return { months: count, ...boundsOn(seen), program: asked ? programOn(seen, count) : null };
  });
}

function isLook(months: number): boolean {
  return LOOKS.some((one) => one === months);
}

/** The bounds by themselves, without a common cause. */
export function boundsOn({ history, wrong }: Looked): Pick<Look, "even" | "clock" | "counting"> {
  return {
    even: evenBound(history, CONFIDENCE),
    clock: timeOfDayBound(history, CONFIDENCE),
    counting: history.years === 0 ? Infinity : rateUpperBound(wrong, history.years, CONFIDENCE),
  };
}

/** The program's own figures. */
export function programOn({ history, wrong }: Looked, months: number): ProgramLook {
  const stated = { commonShare: STATED_SHARE, noSharedHoursBecause: null };
  const { bound, slid, conditions }: DesignFigures = designFigures(history, stated, months, { wrong, unconfirmed: 0, years: history.years, leastShare: 1 }, { confidence: CONFIDENCE, limitPerYear: null });
  return { bound: bound ?? Infinity, slid, failed: conditions.flatMap(({ code, holds }) => (holds ? [] : [code])) };
}
