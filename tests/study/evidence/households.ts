/** Ways in which the household's sensors may lie, each audited by the program from its exports. */
import { evenBound, timeOfDayBound } from "../../../src/judge/design/bounds.js";
import { joinedHistories } from "../../../src/judge/design/history.js";
import { designBound } from "../../../src/judge/design/road.js";
import type { DesignHistory } from "../../../src/result/design.js";
import { trulyOf } from "../verdict/evaluate.js";
import { roadOfWorld, type RoadSeen } from "../verdict/judge-world.js";
import { MONTH_DAYS, monthSpan, withinOf } from "../verdict/limits.js";
import { chanceNamed } from "../verdict/random.js";
import { MINUTE, type Rule, type World } from "../verdict/world.js";
import { driveInRule, driveInWorld, LOCK_RULE, type Faults } from "./household.js";
import { DAYS_A_YEAR, type Looked } from "./pulses.js";
import { boundsOn, CONFIDENCE, LOOKS, programOn, type Look } from "./run-setting.js";
import { STATED_SHARE } from "./settings.js";

/** A household with one rule. */
export interface HouseholdSetting {
  readonly id: string;
  readonly name: string;
  readonly faults: Faults;
  readonly rule: Rule;
  /** Why a bound does not hold; null where all its conditions are met. */
  readonly evenFails: string | null;
  readonly clockFails: string | null;
  /** Few years are enough where the road is closed from the start. */
  readonly brief: boolean;
}

/** Why no bound is worked out at all. */
export const NO_PARTS = "no two parts";
/** Minutes after an arrival in which unlocking is right. */
export const COVERED = 15;
const UNCOVERED = 5;
/** Where a setting says nothing else. */
export const PLAIN: Faults = { times: "even", turnsAgain: 0, visitors: 20, overseen: 0.01, asleep: false };

function setting(id: string, name: string, faults: Partial<Faults>, fails: Partial<Pick<HouseholdSetting, "evenFails" | "clockFails" | "brief">> = {}, rule = driveInRule(COVERED)): HouseholdSetting {
  return { id, name, faults: { ...PLAIN, ...faults }, rule, evenFails: null, clockFails: null, brief: false, ...fails };
}

/** Every household of the study, in the order of its table. */
export const households: readonly HouseholdSetting[] = [
  setting("home-even", "false reports at any time", {}),
  setting("home-hours", "70 % of false reports between 17 and 19 h", { times: "hours" }, { evenFails: "both share hours" }),
  setting("home-clumps", "false reports in clumps of four to seven", { times: "clumps" }),
  setting("home-again", "one arrival in ten is followed by a meter that drops out and returns; `right_when` 15 min", { turnsAgain: 0.1 }),
  setting("home-blind", "references miss one stay in twenty", { overseen: 0.05 }),
  setting("home-uncovered", "the same as the fourth, but `right_when` 5 min", { turnsAgain: 0.1 }, { evenFails: "right_when ends too soon", clockFails: "right_when ends too soon", brief: true }, driveInRule(UNCOVERED)),
  setting("home-lock", "a rule that locks", {}, { evenFails: NO_PARTS, clockFails: NO_PARTS, brief: true }, LOCK_RULE),
];

/** One month of a household, seen or of the long run. */
export function worldOf({ id, faults, rule }: Pick<HouseholdSetting, "id" | "faults" | "rule">, name: string, month: number): World {
  return driveInWorld(chanceNamed(`${id}/${name}/${month}`), monthSpan(month), faults, rule);
}

/** Years audited where the road is closed from the start: fewer are enough. */
export const BRIEF_YEARS = 2;

/** Years of the long run. */
export const LONG_RUN_YEARS = 1_000;

/** Wrong firings a year, counted from the known events over a long run. */
export function householdTruth(household: Pick<HouseholdSetting, "id" | "faults" | "rule">, years = LONG_RUN_YEARS): number {
  const months = Math.round((years * DAYS_A_YEAR) / MONTH_DAYS);
  let wrong = 0;
  for (let month = 0; month < months; month += 1) {
    const world = worldOf(household, "truth", month);
    wrong += trulyOf(world, household.rule, withinOf(household.rule)).wrong;
  }
  return (wrong / (months * MONTH_DAYS)) * DAYS_A_YEAR;
}

/** Twelve audited months, one by one and joined: twelve looks of one month, four of three, two of six, one of twelve. */
export interface HouseholdYear {
  /** Those in all of whose months the rule had two parts. */
  readonly looks: readonly Look[];
  /** After each month of the year, all months so far joined; empty where a month had no two parts. */
  readonly monthly: readonly MonthlyLook[];
  /** Why the road is closed whatever the history: codes, an audit each that has any, and the first text. */
  readonly closed: readonly (readonly string[])[];
  readonly text: string | null;
  readonly audits: number;
}

/** F, G, and G with a tenth for a common cause. A year. */
export interface MonthlyLook {
  readonly even: number;
  readonly clock: number;
  readonly whole: number;
}

/** One year of the household. The limits are of no matter here. */
export async function householdYear(household: HouseholdSetting, year: number): Promise<HouseholdYear> {
  const audits: RoadSeen[] = [];
  for (let month = 12 * year; month < 12 * (year + 1); month += 1) {
    const world = worldOf(household, "seen", month);
    audits.push(await roadOfWorld(world, { wrongPerYear: 1, missedShare: 0.5, withinMs: withinOf(household.rule) }));
    if (household.clockFails === NO_PARTS) break;
  }
  const failed = audits.map(({ road }) => road.conditions.filter(({ holds }) => !holds)).filter((list) => list.length > 0);
  const whole = audits.flatMap(({ road, wrong }) => (road.history === null ? [] : [{ history: road.history, wrong }]));
  return {
    looks: household.clockFails === NO_PARTS ? [] : LOOKS.flatMap((months) => Array.from({ length: 12 / months }, (_, i) => lookOn(audits.slice(i * months, (i + 1) * months)))).flatMap((look) => look ?? []),
    monthly: whole.length < 12 ? [] : whole.map((_, i) => monthlyLook(joined(whole.slice(0, i + 1)).history)),
    closed: failed.map((list) => list.map(({ code }) => code)),
    text: failed[0]?.[0]?.text ?? null,
    audits: audits.length,
  };
}

function joined(months: readonly Looked[]): Looked {
  return { history: months.map(({ history }) => history).reduce((first, second): DesignHistory => joinedHistories(first, second)), wrong: months.reduce((sum, { wrong }) => sum + wrong, 0) };
}

/** Null where a month had no two parts: the road is closed then. */
function lookOn(audits: readonly RoadSeen[]): Look | null {
  const months = audits.flatMap(({ road, wrong }) => (road.history === null ? [] : [{ history: road.history, wrong }]));
  if (months.length < audits.length) return null;
  const seen = joined(months);
  return { months: months.length, ...boundsOn(seen), program: programOn(seen, months.length) };
}

function monthlyLook(history: DesignHistory): MonthlyLook {
  const { bound } = designBound(history, { commonShare: STATED_SHARE, noSharedHoursBecause: null }, CONFIDENCE);
  return { even: evenBound(history, CONFIDENCE), clock: timeOfDayBound(history, CONFIDENCE), whole: bound };
}

/** How early an unlock may come and still be right, in minutes. */
export const EARLY_MINUTES = withinOf(driveInRule(COVERED)) / MINUTE;
