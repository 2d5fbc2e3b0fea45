import type { FiringOutcome } from "../judgement.js";

/** A firing (epoch milliseconds) with its outcome. */
export interface TimedOutcome {
  readonly at: number;
  readonly outcome: FiringOutcome;
}

/** Firings that only one of two replays has, each in time order. */
export interface FiringDifference {
  readonly gained: readonly TimedOutcome[];
  readonly lost: readonly TimedOutcome[];
}

/**
 * What `changed` has and `plain` has not, and the other way round. A firing that has merely moved, by at most `toleranceMs` and
 * with the same outcome, is neither: of two sorted lists the most pairs within a tolerance are found by always pairing the
 * earliest. A firing that moved and thereby became wrong is one lost and one gained. Linear.
 */
export function compareFirings(plain: readonly TimedOutcome[], changed: readonly TimedOutcome[], toleranceMs: number): FiringDifference {
  const gained: TimedOutcome[] = [];
  const lost: TimedOutcome[] = [];
  for (const outcome of ["right", "wrong", "unverified"] as const) {
    const before = plain.filter((one) => one.outcome === outcome);
    const after = changed.filter((one) => one.outcome === outcome);
    let i = 0;
    let j = 0;
    while (i < before.length || j < after.length) {
      const gap = (after[j]?.at ?? Infinity) - (before[i]?.at ?? Infinity);
      if (Math.abs(gap) <= toleranceMs) {
        i += 1;
        j += 1;
      } else if (gap > 0) {
        lost.push(before[i]!);
        i += 1;
      } else {
        gained.push(after[j]!);
        j += 1;
      }
    }
  }
  const inTime = (list: TimedOutcome[]): TimedOutcome[] => list.sort((a, b) => a.at - b.at);
  return { gained: inTime(gained), lost: inTime(lost) };
}
