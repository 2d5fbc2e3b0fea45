import { largestProduct } from "./joint-look.js";

/** Pulses of one part over an exposure. */
export interface Pulses {
  readonly count: number;
  /** The longest a pulse can last, in years. */
  readonly longestYears: number;
}

/**
 * The upper bound, valid at every look, of the rate (a year) at which two independent parts are on together: the
 * largest product of their rates that the counts allow, times the sum of their longest pulses. Infinity without
 * exposure. Valid only where the parts share no time of day.
 * The idea is that of accidental coincidences between counters (Eckart & Shonka 1938, Phys. Rev. 53) and of parallel
 * repairable units (Billinton & Allan, Reliability Evaluation of Engineering Systems); both written down from memory.
 * @throws RangeError when a number is negative or not finite, or the confidence is not between 0 and 1.
 */
export function togetherAtEveryLook([first, second]: readonly [Pulses, Pulses], exposureYears: number, confidence: number): number {
  if (exposureYears === 0) return Infinity;
  return (largestProduct({ first: first.count, second: second.count }, confidence) * (first.longestYears + second.longestYears)) / exposureYears ** 2;
}
