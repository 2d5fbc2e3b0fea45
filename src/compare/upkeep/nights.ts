import { rollups } from "d3-array";
import type { Culprit } from "../../result/culprit.js";
import type { RuleFinding } from "../../result/rules.js";
import type { Upkeep } from "../../result/upkeep.js";
import type { Days } from "./days.js";

type RuleNights = Upkeep["nights"][number];
type Night = RuleNights["days"][number];

/** What a sensor did, as against a rule that asks too much or too little. */
const SENSORS_DOING: readonly Culprit["what"][] = ["said the opposite", "silent", "already so", "came back", "too late"];
/** A day is told by the worst that happened on it. */
const worstFirst: readonly Night["outcome"][] = ["wrong", "failed", "unjudged", "served"];

/** What became of a rule on each day on which something was wanted or it acted wrongly, and what sensors stood in its way. */
export function nightsOf(rule: RuleFinding, days: Days): RuleNights {
  const events: Night[] = [
    ...rule.wantedList.map(({ at, outcome, culprit }) => ({ day: days.dayOf(at), outcome: outcome === "served" ? ("served" as const) : ("failed" as const), signals: blamed(culprit) })),
    ...rule.firingList.flatMap(({ at, outcome, culprit }) => (outcome === "wrong" ? [{ day: days.dayOf(at), outcome: "wrong" as const, signals: blamed(culprit) }] : [])),
    ...(rule.unjudged ?? []).map((at) => ({ day: days.dayOf(at), outcome: "unjudged" as const, signals: [] })),
  ];
  const byDay = rollups(
    events,
    (all): Night => {
      const outcome = worstFirst.find((one) => all.some((event) => event.outcome === one)) ?? "served";
      const day = all[0]?.day ?? 0;
      return { day, outcome, signals: [...new Set(all.flatMap(({ signals }) => signals))].sort() };
    },
    ({ day }) => day,
  );
  return { rule: rule.name, act: rule.act, days: byDay.map(([, night]) => night).sort((a, b) => a.day - b.day) };
}

function blamed(culprit: Culprit | null): string[] {
  if (culprit?.signal == null || !SENSORS_DOING.includes(culprit.what)) return [];
  return [culprit.signal, ...culprit.signals];
}
