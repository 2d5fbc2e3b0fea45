import type { RuleFinding } from "../result/schema.js";

/**
 * Signals and shared causes of which one alone would have sufficed for so long, the rest holding anyway, that it keeps the
 * verdict open; those that would have sufficed longest first. Not those that suffice by the rule's structure.
 */
export function aloneAtTimes({ reasons, cutSets, singlePoints }: RuleFinding): string[] {
  const limit = reasons.find(({ code, effect }) => code === "single-in-practice" && effect === "open")?.limit ?? null;
  if (limit === null) return [];
  const structural = [...singlePoints.signals, ...singlePoints.causes];
  return cutSets.inPractice.sets
    .filter(({ share }) => share > limit)
    .map(({ signals, causes }) => [...signals, ...causes])
    .filter((members) => members.length === 1 && !structural.includes(members[0]!))
    .flat();
}

type Reason = RuleFinding["reasons"][number];

/** One of the numbers that decide: which bound, and the place of its reason; null where no reason gives it. */
export interface DecidingBound {
  /** `least` where even the lower bound breaks the limit. */
  readonly bound: "least" | "most";
  readonly reason: Reason | null;
  /** Place of the reason in the rule's list. */
  readonly index: number;
}

/**
 * The bound that decides about wrong firings, and that about missed moments: the lower one where it breaks the limit by
 * itself, else the upper one.
 */
export function decidingBound(rule: RuleFinding, about: "wrong" | "missed"): DecidingBound {
  const place = (end: "lower" | "upper"): number => rule.reasons.findIndex((reason) => reason.code === `${about}-${end}-bound` && (end === "upper" || reason.effect === "breaks"));
  const [lower, upper] = [place("lower"), place("upper")];
  const index = lower >= 0 ? lower : upper;
  return { bound: lower >= 0 ? "least" : "most", reason: rule.reasons[index] ?? null, index };
}
