/**
 * Bounds that hold at every look: a history may be tested anew each month, as long as it lasts, and the chance that the
 * bound is ever wrong stays at most 1 − confidence. Each is a mixture of likelihood ratios, whose expected value at the true
 * rate never exceeds 1 (Wald 1945; that it then seldom ever exceeds 1/α: Ville 1939; texts not seen). The mixtures are chosen here,
 * before anything is looked at. They take fractions of events, so that clumped events can count as fewer.
 */
import { requireAmount, requireConfidence } from "./requirements.js";

interface Alternative {
  /** The true rate as a multiple of the rate under test. */
  readonly ratio: number;
  readonly weight: number;
}

/** Against rates that are too high. Ever cleared at the limit in 120 monthly looks: 2.1 to 3.5 % (see the tests). Our own choice. */
const LOWER_RATES: readonly Alternative[] = [
  { ratio: 0.1, weight: 0.5 },
  { ratio: 0.3, weight: 0.2 },
  { ratio: 0.5, weight: 0.1 },
  { ratio: 0.7, weight: 0.1 },
  { ratio: 0.85, weight: 0.1 },
];

/**
 * The rate is at most this, at every look so far and to come. Infinity when nothing was observed. With a count of 0 at 0.95
 * it is 3.8423 / exposure, where a single look gives 2.9957.
 * @throws RangeError when the count or the exposure is negative or not finite, or the confidence is not between 0 and 1.
 */
export function rateUpperAtEveryLook(count: number, exposure: number, confidence: number): number {
  requireRate(count, exposure, confidence);
  if (exposure === 0) return Infinity;
  return rising((mean) => rateEvidence(count, mean), confidence) / exposure;
}

/**
 * The share of failures is at most this, at every look. 1 when there were no trials.
 * @throws RangeError when a number is negative, failures exceed trials, or the confidence is not between 0 and 1.
 */
export function shareUpperAtEveryLook(failures: number, trials: number, confidence: number): number {
  requireTrials(failures, trials, confidence);
  const log = (share: number): number => shareEvidence(failures, trials, share);
  const bar = -Math.log(1 - confidence);
  if (trials === 0 || log(1 - 1e-12) < bar) return 1;
  return bisected((share) => log(share) >= bar, 0, 1);
}

/** The exposure at which the upper bound meets the limit, should the count stay what it is; Infinity for a limit of 0. Throws as {@link rateUpperAtEveryLook}. */
export function exposureNeededAtEveryLook(count: number, limitRate: number, confidence: number): number {
  if (!(limitRate >= 0)) throw new RangeError(`A limit is 0 or more, not ${limitRate}.`);
  return rateUpperAtEveryLook(count, 1, confidence) / limitRate;
}

/** Beyond a billion trials nobody waits. */
const MOST_TRIALS = 1e9;

/**
 * How many further trials without a failure until the upper bound of the share is at most the limit; 0 when it is already, null
 * when no number is enough. Throws as {@link shareUpperAtEveryLook}.
 */
export function trialsNeededAtEveryLook(failures: number, trials: number, limitShare: number, confidence: number): number | null {
  requireTrials(failures, trials, confidence);
  if (!(limitShare >= 0 && limitShare <= 1)) throw new RangeError(`A limit lies in 0 to 1, not ${limitShare}.`);
  if (limitShare === 1) return 0;
  if (limitShare === 0) return null;
  const bar = -Math.log(1 - confidence);
  const enough = (further: number): boolean => trials + further > 0 && shareEvidence(failures, trials + further, limitShare) >= bar;
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

/** ln of the mixture Σ w rᵏ e^((1 − r) μ) of likelihood ratios of a Poisson count against the mean μ. */
function rateEvidence(count: number, mean: number): number {
  return logSum(LOWER_RATES.map(({ ratio, weight }) => Math.log(weight) + count * Math.log(ratio) + (1 - ratio) * mean));
}

/** The same of a share: Σ w rᵏ ((1 − r p) / (1 − p))ⁿ⁻ᵏ. */
function shareEvidence(failures: number, trials: number, share: number): number {
  return logSum(LOWER_RATES.map(({ ratio, weight }) => Math.log(weight) + failures * Math.log(ratio) + (trials - failures) * (Math.log1p(-ratio * share) - Math.log1p(-share))));
}

function logSum(logs: readonly number[]): number {
  const top = Math.max(...logs);
  return top + Math.log(logs.reduce((sum, one) => sum + Math.exp(one - top), 0));
}

/** The mean at which evidence that rises with it reaches ln 1/α. */
function rising(evidence: (mean: number) => number, confidence: number): number {
  const bar = -Math.log(1 - confidence);
  let high = 1;
  while (evidence(high) < bar) high *= 2;
  return bisected((mean) => evidence(mean) >= bar, 0, high);
}

/** The smallest place at which a condition that stays true holds, to the last bits of a double. */
function bisected(holds: (place: number) => boolean, from: number, to: number): number {
  let [low, high] = [from, to];
  for (let i = 0; i < 200; i += 1) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) break;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
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
