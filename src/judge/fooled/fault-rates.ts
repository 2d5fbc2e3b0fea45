import { HOUR_MS } from "../../ground/units.js";

/** How often one signal lies, measured elsewhere. Null: not known. */
export interface FaultRate {
  /** Lies a year: false stretches, and turns it failed to report (it then lies until it turns after all). */
  readonly perYear: number | null;
  /** The upper end of that rate's interval. */
  readonly perYearHigh: number | null;
  /** How long a lie lasts, on average, in milliseconds; null where none was seen. */
  readonly meanMs: number | null;
  /** Share of true turns it does not report, and the upper end of its interval. */
  readonly missedShare: number | null;
  readonly missedShareHigh: number | null;
}

/** By signal. */
export type FaultRates = ReadonlyMap<string, FaultRate>;

/**
 * The beta factor: the share of a signal's faults that it shares with everything on the same board, hub or network. A
 * stated prior, not a measurement: one in ten, the cautious end of the 1 to 10 % that common practice takes for sensors
 * (common practice, no source; the text of IEC 61508-6 was not seen). A month of history holds too few faults to
 * estimate it.
 */
export const BETA = 0.1;

/** How long a lie is taken to last where none could be timed. Our own choice. */
export const UNTIMED_LIE_MS = HOUR_MS;

/**
 * The beta-factor model: of a rate of faults the share `beta` strikes all units of a shared cause at once, the rest
 * each unit independently of the others. (Fleming's model, as in IEC 61508-6 annex D; formula from memory, text not
 * seen.)
 */
export function betaSplit(rate: number, beta: number): { readonly own: number; readonly common: number } {
  return { own: (1 - beta) * rate, common: beta * rate };
}

/** How often something lies. */
export interface LyingRate {
  readonly perYear: number;
  /** Share of the time during which it lies, 0..1. */
  readonly timeShare: number;
}

/**
 * How often all members of a set lie at once and make a condition true, per year: each in turn is the last to begin,
 * while all others lie already; `restHolds` is the share of time in which nothing else is needed. Lies are taken as
 * independent of one another. Rare-event approximation: sum over members of rate times the product of the others' time
 * shares.
 */
export function coincidencesPerYear(members: readonly LyingRate[], restHolds: number): number {
  return restHolds * members.reduce((sum, last) => sum + last.perYear * members.reduce((product, other) => (other === last ? product : product * other.timeShare), 1), 0);
}

/** The chance that all members fail to speak at once, taken as independent: the product of their shares. */
export function jointShare(shares: readonly number[]): number {
  return shares.reduce((product, one) => product * one, 1);
}

/**
 * The chance of at least one of several sets: exact where the sets have no member in common, else an approximation from
 * above of the union that never exceeds 1 (the "minimal cut set upper bound" of fault-tree analysis, 1 − Π(1 − p)).
 */
export function anyOfShares(shares: readonly number[]): number {
  return 1 - shares.reduce((product, one) => product * (1 - one), 1);
}
