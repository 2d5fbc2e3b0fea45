import type { FiringOutcome } from "../judgement.js";
import type { Estimate } from "../../statistics/estimate.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";

/** What a rule with some setting did in one part of the history. */
export interface PartOutcome {
  readonly firings: number;
  readonly wrong: number;
  readonly unverified: number;
  readonly wanted: number;
  readonly late: number;
  readonly missed: number;
  /** From each wanted instant that was served or late to its firing; those served by a rest have none. */
  readonly delaysSeconds: readonly number[];
  /** Years during which the condition was known. */
  readonly yearsSeen: number;
}

/** {@link PartOutcome} as told: counts and figures with their intervals. */
export interface PartFigures {
  readonly firings: number;
  readonly wrong: number;
  readonly unverified: number;
  readonly wanted: number;
  readonly late: number;
  readonly missed: number;
  /** Unverified taken as wrong. */
  readonly wrongPerYear: Estimate;
  /** Missed or late. */
  readonly missedShare: Estimate;
  /** Median. */
  readonly delay: Estimate;
}

/** The figures of a part at the site's confidence. */
export function figuresOf(outcome: PartOutcome, confidence: number): PartFigures {
  const { firings, wrong, unverified, wanted, late, missed } = outcome;
  return {
    firings,
    wrong,
    unverified,
    wanted,
    late,
    missed,
    wrongPerYear: rateEstimate(wrong + unverified, outcome.yearsSeen, confidence, "per year"),
    missedShare: shareEstimate(missed + late, wanted, confidence),
    delay: quantileEstimate(outcome.delaysSeconds, 0.5, confidence, "seconds"),
  };
}

/** Puts counted things together. */
export function partOutcome(outcomes: readonly FiringOutcome[], servings: readonly { readonly outcome: "served" | "late" | "missed"; readonly delaySeconds: number | null }[], yearsSeen: number): PartOutcome {
  const of = (outcome: FiringOutcome): number => outcomes.filter((one) => one === outcome).length;
  return {
    firings: outcomes.length,
    wrong: of("wrong"),
    unverified: of("unverified"),
    wanted: servings.length,
    late: servings.filter((one) => one.outcome === "late").length,
    missed: servings.filter((one) => one.outcome === "missed").length,
    delaysSeconds: servings.flatMap((one) => (one.delaySeconds === null ? [] : [one.delaySeconds])),
    yearsSeen,
  };
}

/**
 * What two outcomes are compared by, less being better: wrong firings; wrong and unverified ones together; wanted instants
 * missed or late; the median delay in whole seconds (nothing served is as bad as any delay).
 */
export function aims(outcome: PartOutcome): readonly number[] {
  const delay = quantileEstimate(outcome.delaysSeconds, 0.5, 0.5, "seconds").value;
  return [outcome.wrong, outcome.wrong + outcome.unverified, outcome.missed + outcome.late, delay === null ? Infinity : Math.round(delay)];
}

/** Whether `a` is no worse in any aim and better in one. */
export function dominates(a: readonly number[], b: readonly number[]): boolean {
  return a.every((value, i) => value <= b[i]!) && a.some((value, i) => value < b[i]!);
}

/** As {@link dominates}, the delay left aside: who comes in time has come in time, and who comes late counts as late. */
export function betters(a: readonly number[], b: readonly number[]): boolean {
  return dominates(a.slice(0, -1), b.slice(0, -1));
}

/** Order: by the first aim in which they differ. */
export function compareAims(a: readonly number[], b: readonly number[]): number {
  const i = a.findIndex((value, at) => value !== b[at]);
  return i < 0 ? 0 : a[i]! < b[i]! ? -1 : 1;
}
