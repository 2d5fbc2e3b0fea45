import type { Estimate } from "../../statistics/estimate.js";
import { MONTH_MS } from "../../ground/units.js";

/** Phantoms are given per this much time in which signal and reference were both known. */
export const RATE_SPAN_MS = MONTH_MS;

/** The unit that belongs to {@link RATE_SPAN_MS}. */
export const RATE_UNIT = "per 30 days";

/** An estimate without a value, and why. */
export function noEstimate(unit: string, why: string): Estimate {
  return { value: null, low: null, high: null, count: 0, unit, why };
}

/** Gives a more specific reason if there is no value. */
export function because(estimate: Estimate, why: string): Estimate {
  return estimate.value === null ? { ...estimate, why } : estimate;
}

/** Why a signal with one other witness is charged with nothing. */
export const ONLY_ONE_OTHER = "only one other sensor watches it, so nobody can tell which of the two is wrong";
