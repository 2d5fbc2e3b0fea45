/** Households whose rule only counting can clear: how often does its bound lie at or above the true rate of wrong firings? */
import { judgeWorld, overThese, type JudgedMonth } from "../verdict/judge-world.js";
import { withinOf } from "../verdict/limits.js";
import type { Rule } from "../verdict/world.js";
import { driveInRule, LOCK_BY_PHONES, type Faults } from "./household.js";
import { COVERED, PLAIN, worldOf } from "./households.js";
import { LOOKS } from "./run-setting.js";

/** A household with one rule, judged by counting. */
export interface CountedSetting {
  readonly id: string;
  readonly name: string;
  readonly faults: Faults;
  readonly rule: Rule;
}

function setting(id: string, name: string, faults: Partial<Faults>, rule = LOCK_BY_PHONES): CountedSetting {
  return { id, name, faults: { ...PLAIN, ...faults }, rule };
}

/** Every household judged by counting, in the order of its table. */
export const countedHomes: readonly CountedSetting[] = [
  setting("lock-even", "lock: false reports at any time", {}),
  setting("lock-hours", "lock: 70 % of false reports between 17 and 19 h", { times: "hours" }),
  setting("lock-clumps", "lock: false reports in clumps of four to seven", { times: "clumps" }),
  setting("lock-blind", "lock: references miss one stay in twenty", { overseen: 0.05 }),
  setting("lock-asleep", "lock: 70 % of false reports between 0 and 5 h, references silent from 23 to 6 h in four nights of five", { times: "nights", asleep: true }),
  setting("unlock-even", "unlock: false reports at any time", {}, driveInRule(COVERED)),
];

/** The bound by counting after so many months, a year; Infinity where there is none. */
export interface CountedLook {
  readonly months: number;
  readonly bound: number;
  /** Wrong firings that the program confirmed. */
  readonly wrong: number;
}

/** Twelve audited months: looks of 1, 3, 6 and 12 of them, and what is said after each month of the year, all so far joined. */
export interface CountedYear {
  readonly looks: readonly CountedLook[];
  readonly monthly: readonly CountedLook[];
}

/** One year of the household. The limits are of no matter here. */
export async function countedYear(home: CountedSetting, year: number): Promise<CountedYear> {
  const months: JudgedMonth[] = [];
  for (let month = 12 * year; month < 12 * (year + 1); month += 1) {
    months.push(await judgeWorld(worldOf(home, "seen", month), { wrongPerYear: 1, missedShare: 0.5, withinMs: withinOf(home.rule) }, false));
  }
  return {
    looks: LOOKS.flatMap((count) => Array.from({ length: 12 / count }, (_, i) => lookOn(months.slice(i * count, (i + 1) * count)))),
    monthly: months.map((_, i) => lookOn(months.slice(0, i + 1))),
  };
}

function lookOn(months: readonly JudgedMonth[]): CountedLook {
  const rule = overThese(months);
  const { bounds, firings } = rule.cumulated ?? rule;
  return { months: months.length, bound: bounds.wrongUpper ?? Infinity, wrong: firings.wrong };
}
