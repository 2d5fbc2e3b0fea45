/** Looks at histories of one setting as the program would. */
import { evenBound, singleLook, timeOfDayBound } from "../../../src/judge/design/bounds.js";
import { designFigures } from "../../../src/judge/design/road.js";
import { slidEstimate } from "../../../src/judge/design/slides.js";
import { rateUpperBound } from "../../../src/statistics/rate.js";
import type { DesignFigures } from "../../../src/result/design.js";
import { chanceNamed } from "../verdict/random.js";
import { lookedAt, MONTH_DAYS } from "./pulses.js";
import { STATED_SHARE, type Setting } from "./settings.js";

const CONFIDENCE = 0.95;
/** Looks at which bounds are counted one by one, in months. */
export const LOOKS = [1, 3, 6, 12] as const;
const YEAR_MONTHS = 12;

/** What one look shows. Bounds and estimates a year. */
export interface Look {
  readonly months: number;
  readonly even: number;
  readonly clockOnce: number;
  readonly clock: number;
  readonly counting: number;
  /** What the program says with the stated common cause; only at the months of {@link LOOKS}. */
  readonly program: Pick<DesignFigures, "bound" | "slid"> & { readonly failed: readonly string[] } | null;
}

/**
 * The looks at one history, of which each is the beginning of the next: after 1, 3, 6 and 12 months, or after every month. The
 * same number gives the same history.
 */
export function looksAt(setting: Setting, history: number, everyMonth: boolean): Look[] {
  const made = setting.make(chanceNamed(`${setting.id}/${history}`), YEAR_MONTHS * MONTH_DAYS);
  const months = everyMonth ? Array.from({ length: YEAR_MONTHS }, (_, i) => i + 1) : LOOKS;
  return months.map((count) => {
    const { history: seen, wrong } = lookedAt(made, count * MONTH_DAYS);
    const told = LOOKS.includes(count as (typeof LOOKS)[number]);
    return {
      months: count,
      even: evenBound(seen, CONFIDENCE),
      clockOnce: told ? (singleLook(seen, CONFIDENCE)?.bound ?? Infinity) : NaN,
      clock: timeOfDayBound(seen, CONFIDENCE),
      counting: seen.years === 0 ? Infinity : rateUpperBound(wrong, seen.years, CONFIDENCE),
      program: told || setting.common ? programOn(seen, count, wrong) : null,
    };
  });
}

function programOn(seen: Parameters<typeof slidEstimate>[0], months: number, wrong: number): NonNullable<Look["program"]> {
  const { bound, slid, conditions } = designFigures(seen, { commonShare: STATED_SHARE, noSharedHoursBecause: null }, months, { wrong, years: seen.years }, { confidence: CONFIDENCE, limitPerYear: null });
  return { bound, slid, failed: conditions.flatMap(({ code, holds }) => (holds ? [] : [code])) };
}
