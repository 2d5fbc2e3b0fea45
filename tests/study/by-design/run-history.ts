import { failedConditions } from "../../../src/judge/design/road.js";
import type { RuleFinding } from "../../../src/result/rules.js";
import { judgeWorld, overThese, type JudgedMonth } from "../verdict/judge-world.js";
import { limitsFor, longRunOf, monthSpan, withinOf, type LongRun } from "../verdict/limits.js";
import type { Mechanism } from "../verdict/mechanism.js";
import { chanceNamed } from "../verdict/random.js";
import { MONTHS } from "./mechanisms.js";

/** What the audit of the last month of one history says, all months joined. */
export interface HistoryResult {
  readonly verdict: RuleFinding["verdict"];
  /** Whether each road alone shows that wrong firings stay within the limit. */
  readonly byCounting: boolean;
  readonly byDesign: boolean;
  /** Codes of the conditions that close the road of design; none where it is open. */
  readonly closedBy: readonly string[];
  /** Its bound a year; null where there is none. */
  readonly bound: number | null;
  readonly limit: number;
  /** Codes of the reasons that keep the rule from being cleared. */
  readonly against: readonly string[];
}

const TRUTH_MONTHS = 60;

/** How the rule truly does over five years. */
export function truthOf(mechanism: Mechanism): LongRun {
  return longRunOf(mechanism, TRUTH_MONTHS);
}

/** One history of some months, each audited by itself with the results of those before. */
export async function runHistory(mechanism: Mechanism, truth: LongRun, setting: "breaks" | "sound", history: number): Promise<HistoryResult> {
  const months: JudgedMonth[] = [];
  let limit = NaN;
  for (let month = 0; month < MONTHS; month += 1) {
    const world = mechanism.build(chanceNamed(`by design/${mechanism.id}/${history}/${month}`), monthSpan(month), { faulty: setting === "breaks", seen: true, month });
    const limits = limitsFor(mechanism, truth, setting, withinOf(world.rule));
    limit = limits.wrongPerYear;
    months.push(await judgeWorld(world, limits));
  }
  const rule = overThese(months);
  const clears = (code: string): boolean => rule.reasons.some((one) => one.code === code && one.effect === "clears");
  const figures = rule.cumulated?.design ?? null;
  return {
    verdict: rule.verdict,
    byCounting: clears("wrong-upper-bound"),
    byDesign: clears("by-design"),
    closedBy: rule.design === null ? ["parts"] : failedConditions(rule.design, figures).map(({ code }) => code),
    bound: figures?.bound ?? null,
    limit,
    against: rule.reasons.filter(({ effect }) => effect === "open" || effect === "breaks").map(({ code }) => code),
  };
}
