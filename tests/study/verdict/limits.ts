import { trulyOf } from "./evaluate.js";
import type { Mechanism } from "./mechanism.js";
import { chanceNamed } from "./random.js";
import { DAY, HOUR, MINUTE, type Limits, type Rule, type Span } from "./world.js";

/** A month of the study, in days. */
export const MONTH_DAYS = 31;
const FIRST_DAY = Date.UTC(2026, 2, 1);
const DAYS_A_YEAR = 365.25;
/** Months of the long run: its rates are then known to about two in a hundred. */
const LONG_RUN_MONTHS = 120;
/** A true figure of so many times the limit breaks it, where the mechanism does not say otherwise. */
const OVER = 1.2;
/** Where a limit is met, it is so many times the true figure. */
const ROOM = 2;
/** The other limit, which the fault does not touch: wide. */
const WIDE = { wrongPerYear: 200, missedShare: 0.3 };
/** What the limits are where the rule has no fault at all. */
const PLAIN = { wrongPerYear: 150, missedShare: 0.15 };

/** `breaks`: the fault breaks a limit. `keeps`: it keeps both. `sound`: the limits of `breaks`, and no fault. */
export type Setting = "breaks" | "keeps" | "sound";

/** How the rule truly does in the long run. */
export interface LongRun {
  readonly wrongPerYear: number;
  readonly missedShare: number;
  readonly wantedAMonth: number;
}

/** The n-th month. */
export function monthSpan(month: number): Span {
  return { from: FIRST_DAY + month * MONTH_DAYS * DAY, to: FIRST_DAY + (month + 1) * MONTH_DAYS * DAY };
}

/** When an act counts as in time. */
export function withinOf({ act }: Rule): number {
  return act === "lock" ? HOUR / 4 : 2 * MINUTE;
}

/** A long run with the fault, told from the known events. */
export function longRunOf(mechanism: Mechanism, months = LONG_RUN_MONTHS): LongRun {
  const sums = { wrong: 0, wanted: 0, missed: 0 };
  for (let month = 0; month < months; month += 1) {
    const world = mechanism.build(chanceNamed(`${mechanism.id}/long/${month}`), monthSpan(month), { faulty: true, seen: false, month });
    const truly = trulyOf(world, world.rule, withinOf(world.rule));
    sums.wrong += truly.wrong;
    sums.wanted += truly.wanted;
    sums.missed += truly.missedOrLate;
  }
  return { wrongPerYear: (sums.wrong / (months * MONTH_DAYS)) * DAYS_A_YEAR, missedShare: sums.missed / sums.wanted, wantedAMonth: sums.wanted / months };
}

/** The limits of a setting. */
export function limitsFor(mechanism: Mechanism, truth: LongRun, setting: Setting, withinMs: number): Limits {
  if (mechanism.breaks === null) return { ...PLAIN, withinMs };
  const factor = setting === "keeps" ? ROOM : 1 / (mechanism.over ?? OVER);
  if (mechanism.breaks === "wrong") return { wrongPerYear: truth.wrongPerYear * factor, missedShare: Math.min(1, Math.max(WIDE.missedShare, 3 * truth.missedShare)), withinMs };
  const most = setting === "keeps" ? 1 : WIDE.missedShare;
  return { wrongPerYear: Math.max(WIDE.wrongPerYear, 3 * truth.wrongPerYear), missedShare: Math.min(most, truth.missedShare * factor), withinMs };
}
