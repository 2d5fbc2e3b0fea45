/**
 * Bounds that hold at every look. A history may be tested again each month for as long as it lasts: the chance that the
 * bound is ever wrong is at most 1 − confidence. Each rests on a mixture of likelihood ratios whose expected value at
 * the true rate is at most 1 (Wald 1945), so that it rarely ever exceeds 1/α (Ville 1939; texts not seen). The mixture
 * is fixed here, before any data is seen. Counts may be fractions, so that clumped events can count as fewer.
 */
import { logSum } from "./log-sum.js";
import { requireAmount, requireConfidence } from "./requirements.js";

interface Alternative {
  /** The true rate as a multiple of the rate under test. */
  readonly ratio: number;
  readonly weight: number;
}

/**
 * A rate at its limit is ever cleared in 120 monthly looks with a chance of 2.1 to 3.5 % (see the tests). Our own
 * choice.
 */
const LOWER_RATES: readonly Alternative[] = [
  { ratio: 0.1, weight: 0.5 },
  { ratio: 0.3, weight: 0.2 },
  { ratio: 0.5, weight: 0.1 },
  { ratio: 0.7, weight: 0.1 },
  { ratio: 0.85, weight: 0.1 },
];

/**
 * An upper bound of the rate, valid at every look so far and to come. Infinity when nothing was observed. For a count
 * of 0 at 0.95 it is 3.8423 / exposure; for a single look it would be 2.9957.
 * @throws RangeError when the count or the exposure is negative or not finite, or the confidence is not between 0 and
 * 1.
 */
export function rateUpperAtEveryLook(count: number, exposure: number, confidence: number): number {
  requireRate(count, exposure, confidence);
  if (exposure === 0) return Infinity;
  return largestAllowed((mean) => rateEvidence(count, mean), confidence) / exposure;
}

/**
 * An upper bound of the share of failures, valid at every look. 1 when there were no trials.
 * @throws RangeError when a number is negative, failures exceed trials, or the confidence is not between 0 and 1.
 */
export function shareUpperAtEveryLook(failures: number, trials: number, confidence: number): number {
  requireTrials(failures, trials, confidence);
  const log = (share: number): number => shareEvidence(failures, trials, share);
  const bar = -Math.log(1 - confidence);
  if (log(1 - 1e-12) < bar) return 1;
  return bisected((share) => log(share) >= bar, 0, 1);
}

/** More trials than this are as good as never. */
const MOST_TRIALS = 1e9;

/**
 * How many more trials without a failure bring the upper bound of the share down to the limit. 0 when it is there
 * already, null when no number of trials does.
 * @throws RangeError as {@link shareUpperAtEveryLook}, and when the limit is outside 0 to 1.
 */
export function trialsNeededAtEveryLook(failures: number, trials: number, limitShare: number, confidence: number): number | null {
  requireTrials(failures, trials, confidence);
  if (!(limitShare >= 0 && limitShare <= 1)) throw new RangeError(`A limit lies in 0 to 1, not ${limitShare}.`);
  if (limitShare === 1) return 0;
  const bar = -Math.log(1 - confidence);
  const enough = (further: number): boolean => shareEvidence(failures, trials + further, limitShare) >= bar;
  if (enough(0)) return 0;
  let [tooFew, plenty] = [0, 1];
  while (!enough(plenty)) {
    [tooFew, plenty] = [plenty, plenty * 2];
    if (plenty > MOST_TRIALS) return null;
  }
  while (plenty - tooFew > 1) {
    const middle = Math.floor((tooFew + plenty) / 2);
    if (enough(middle)) plenty = middle;
    else tooFew = middle;
  }
  return plenty;
}

/**
 * ln of the mixture Σ w rᵏ e^((1 − r) μ) of likelihood ratios of a Poisson count k against the mean μ: how much the count speaks against
 * that mean or more, at every look. Rises with the mean.
 */
export function rateEvidence(count: number, mean: number): number {
  return logSum(LOWER_RATES.map(({ ratio, weight }) => Math.log(weight) + count * Math.log(ratio) + (1 - ratio) * mean));
}

/** The same for k failures in n trials against the share p: ln Σ w rᵏ ((1 − r p) / (1 − p))ⁿ⁻ᵏ. */
function shareEvidence(failures: number, trials: number, share: number): number {
  return logSum(LOWER_RATES.map(({ ratio, weight }) => Math.log(weight) + failures * Math.log(ratio) + (trials - failures) * (Math.log1p(-ratio * share) - Math.log1p(-share))));
}

/** Beyond this a bound says nothing. */
const LARGEST = 1e12;

/**
 * The largest value that the data still allow, by evidence against a value or more: ln of a mean of likelihood ratios, rising with the
 * value. Infinity where it never reaches ln 1/α.
 */
export function largestAllowed(evidence: (value: number) => number, confidence: number): number {
  const bar = -Math.log(1 - confidence);
  let high = 1;
  while (evidence(high) < bar) {
    high *= 2;
    if (high > LARGEST) return Infinity;
  }
  return bisected((value) => evidence(value) >= bar, 0, high);
}

/** Whether the data show that the value stays within the limit: whether {@link largestAllowed} is at most the limit, without working it out. */
export function keepsWithin(evidence: (value: number) => number, limit: number, confidence: number): boolean {
  return evidence(limit) >= -Math.log(1 - confidence);
}

const CLOSE_ENOUGH = 1e-13;

/**
 * The smallest number between `from` and `to` for which `holds` is true, nearly to the last bits of a double; `holds` must stay true once
 * it is.
 */
function bisected(holds: (place: number) => boolean, from: number, to: number): number {
  let [low, high] = [from, to];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high || high - low < high * CLOSE_ENOUGH) return high;
    if (holds(middle)) high = middle;
    else low = middle;
  }
}

function requireRate(count: number, exposure: number, confidence: number): void {
  requireConfidence(confidence);
  requireAmount(count, "A count of events");
  requireAmount(exposure, "The exposure");
}

function requireTrials(failures: number, trials: number, confidence: number): void {
  requireConfidence(confidence);
  requireAmount(trials, "The number of trials");
  requireAmount(failures, "The number of failures");
  if (failures > trials) throw new RangeError(`There cannot be ${failures} failures in ${trials} trials.`);
}
