/* eslint-disable @typescript-eslint/no-non-null-assertion -- there is a weight for each count from the least to the most */
import { requireCount } from "./requirements.js";

/**
 * The two-sided p-value for "both shares are equal", given all four margins: the probability of all tables that are at
 * most as likely as the one seen. 1 when one side has no trials, or everything or nothing succeeded.
 * Source: Fisher's exact test (Fisher 1935), hypergeometric probabilities summed by likelihood. Tables whose
 * probabilities differ by less than 1e-7 of their size count as equally likely: that is rounding.
 * @throws RangeError when the counts are not whole or successes exceed trials.
 */
export function twoSharesPValue(successesA: number, trialsA: number, successesB: number, trialsB: number): number {
  for (const count of [successesA, trialsA, successesB, trialsB]) requireCount(count, "A count");
  if (successesA > trialsA || successesB > trialsB) throw new RangeError("There cannot be more successes than trials.");
  const successes = successesA + successesB;
  const least = Math.max(0, successes - trialsB);
  const most = Math.min(successes, trialsA);
  // Logarithms, so that nothing overflows; each step is w(k + 1) / w(k) of the hypergeometric distribution.
  const logWeights: number[] = [0];
  for (let k = least; k < most; k += 1) {
    const step = ((trialsA - k) * (successes - k)) / ((k + 1) * (trialsB - successes + k + 1));
    logWeights.push(logWeights[k - least]! + Math.log(step));
  }
  const seen = logWeights[successesA - least]!;
  const largest = logWeights.reduce((top, one) => Math.max(top, one), -Infinity);
  let all = 0;
  let extreme = 0;
  for (const one of logWeights) {
    const weight = Math.exp(one - largest);
    all += weight;
    if (one <= seen + 1e-7) extreme += weight;
  }
  return Math.min(1, extreme / all);
}
