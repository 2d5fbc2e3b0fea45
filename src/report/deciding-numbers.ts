import { rowsAt, type Traced } from "./traced.js";
import type { RuleFinding } from "../result/rules.js";

/**
 * Signals and shared causes of which one alone would have been enough for longer than the limit, because everything
 * else was already true: each keeps the verdict open. Longest first; without those that are enough by the rule's
 * structure.
 */
export function aloneAtTimes({ reasons, cutSets, singlePoints }: RuleFinding): string[] {
  const limit = reasons.find(({ code, effect }) => code === "single-in-practice" && effect === "open")?.limit ?? null;
  if (limit === null) return [];
  const structural = [...singlePoints.signals, ...singlePoints.causes];
  return cutSets.inPractice.sets
    .filter(({ share, signals, causes }) => share > limit && signals.length + causes.length === 1)
    .flatMap(({ signals, causes }) => [...signals, ...causes])
    .filter((name) => !structural.includes(name));
}

/** One of the numbers that decide. */
export interface DecidingBound {
  /** `least` where even the lower bound breaks the limit. */
  readonly bound: "least" | "most";
  /** The reason that gives the bound; null where none does. */
  readonly reason: Traced<RuleFinding["reasons"][number]> | null;
}

/**
 * The bound that decides about wrong firings, and that about missed moments: the lower one where it breaks the limit by
 * itself, else the upper one of the road that clears the rule.
 */
export function decidingBound(rule: Traced<RuleFinding>, about: "wrong" | "missed"): DecidingBound {
  const reasons = rowsAt(rule, "reasons");
  const lower = reasons.find(({ of }) => of.code === `${about}-lower-bound` && of.effect === "breaks");
  if (lower !== undefined) return { bound: "least", reason: lower };
  const counted = reasons.find(({ of }) => of.code === `${about}-upper-bound`) ?? null;
  const byDesign = reasons.find(({ of }) => of.code === "by-design" && of.effect === "clears") ?? null;
  // Where only design clears the rule, its number decides: counting's would stand over the limit beside a green verdict.
  return { bound: "most", reason: about === "wrong" && byDesign !== null && counted?.of.effect !== "clears" ? byDesign : counted };
}
