/* eslint-disable @typescript-eslint/no-non-null-assertion --
   shares, counts and their covariances are lists in one order: by witness, then changes, then by class of neighbours */
import { betaQuantile } from "../../statistics/distributions.js";
import { scoreCovariance } from "../../statistics/score-covariance.js";
import { smooth } from "./chain.js";
import { chainLogs, expectedCounts, type ExpectedCount, type ExpectedCounts, type LearningSetup, type Rates } from "./learn.js";
import { countedShare } from "./diary.js";
import type { Model } from "./fit-model.js";
import { ERROR_PRIOR, MOST_ERROR_SHARE, MOVED_PRIOR, SWITCH_PRIOR, type BetaPrior } from "./priors.js";
import type { Estimate } from "../../result/estimate.js";

/**
 * A witness's two error rates with intervals at `confidence`; `count` is the expected number of segments each rests on.
 */
interface ErrorRateEstimates {
  readonly saysOnGivenOff: Estimate;
  readonly saysOffGivenOn: Estimate;
}

/** One learnt share, with its prior and its counts. */
interface LearntShare {
  readonly share: number;
  readonly prior: BetaPrior;
  readonly countOf: (counts: ExpectedCounts) => ExpectedCount;
}

/** Half-width of the differences, in logits. */
const STEP = 1e-3;

/**
 * The error rates of every witness with intervals. If the truth of each segment were known, a rate would have the exact
 * interval of its counts (Clopper & Pearson 1934, beta quantiles, which take fractions); since it is not, the counts
 * are worth less. How much less follows from the observed information of the whole model (in logits; the score by
 * Fisher's identity, its slope by differences): the counts are multiplied by the ratio of the variance with the truth
 * known to the variance without it. The mixing of the two is our own choice; docs/study-reference.md measures how often
 * such intervals hold the true rate. Rates that cannot be learnt have no value, with the reason; without positive
 * information there is no interval.
 */
export function errorRateEstimates(model: Model, confidence: number): ErrorRateEstimates[] {
  const { learnt, identification, setup, fromDiary } = model;
  const without = (why: string): Estimate => ({ value: null, low: null, high: null, count: 0, unit: "share", why });
  const witnesses = learnt.rates.saysOnGivenOff.map((_, w) => w);
  if (!identification.identified)
    return witnesses.map(() => ({ saysOnGivenOff: without(identification.why), saysOffGivenOn: without(identification.why) }));
  if (fromDiary !== null) {
    const counted = (one: ExpectedCount): Estimate =>
      one.trials === 0 ? without("it judged no time in that state") : countedEstimate(one, confidence);
    return witnesses.map((w) => ({
      saysOnGivenOff: counted(fromDiary.saysOnGivenOff[w]!),
      saysOffGivenOn: counted(fromDiary.saysOffGivenOn[w]!),
    }));
  }
  const shares = learntShares(setup, learnt.rates);
  const covariance = scoreCovariance(
    (logits) => scoreAt(setup, learnt.rates, shares, logits),
    shares.map(({ share }) => logit(share)),
    STEP,
  );
  const estimate = (place: number): Estimate => {
    const { share, prior, countOf } = shares[place]!;
    const { hits, trials } = countOf(learnt.counts);
    const base = { value: share, count: trials, unit: "share" };
    if (trials === 0) return without("it judged no time in that state");
    const variance = covariance?.[place]![place];
    if (variance === undefined) return { ...base, low: null, high: null, why: "what the sensors say does not settle all rates" };
    const whole = trials + prior.alpha + prior.beta - 2;
    // At most 1: knowing the truth never makes a rate less certain.
    const worth = Math.min(1, 1 / (variance * whole * share * (1 - share)));
    const { low, high } = exactInterval(hits * worth, (trials - hits) * worth, confidence);
    // The value leans on the prior, which the interval leaves out: it may lie a little outside.
    return {
      ...base,
      low: Math.min(share, low),
      high: Math.max(share, high),
      why: share >= MOST_ERROR_SHARE ? "at the highest share of errors allowed" : null,
    };
  };
  return witnesses.map((w) => ({ saysOnGivenOff: estimate(w), saysOffGivenOn: estimate(witnesses.length + w) }));
}

/** If the truth of every segment is known: the exact interval of the counts. */
function countedEstimate(one: ExpectedCount, confidence: number): Estimate {
  const share = countedShare(one);
  const { low, high } = exactInterval(one.hits, one.trials - one.hits, confidence);
  return {
    value: share,
    low: Math.min(share, low),
    high: Math.max(share, high),
    count: one.trials,
    unit: "share",
    why: share >= MOST_ERROR_SHARE ? "at the highest share of errors allowed" : null,
  };
}

/** Clopper & Pearson (1934), for fractions of looks too. */
function exactInterval(erred: number, right: number, confidence: number): { low: number; high: number } {
  const tail = (1 - confidence) / 2;
  return { low: erred > 0 ? betaQuantile(tail, erred, right + 1) : 0, high: right > 0 ? betaQuantile(1 - tail, erred + 1, right) : 1 };
}

function learntShares({ stayPriors }: LearningSetup, rates: Rates): LearntShare[] {
  return [
    ...rates.saysOnGivenOff.map((share, w): LearntShare => ({ share, prior: ERROR_PRIOR, countOf: (counts) => counts.saysOnGivenOff[w]! })),
    ...rates.saysOffGivenOn.map((share, w): LearntShare => ({ share, prior: ERROR_PRIOR, countOf: (counts) => counts.saysOffGivenOn[w]! })),
    { share: rates.changes, prior: SWITCH_PRIOR, countOf: (counts) => counts.changes },
    ...rates.movedGivenChange.map((share, c): LearntShare => ({
      share,
      prior: MOVED_PRIOR,
      countOf: (counts) => counts.movedGivenChange[c]!,
    })),
    ...rates.movedGivenStay.map((share, c): LearntShare => ({
      share,
      prior: stayPriors[c]!,
      countOf: (counts) => counts.movedGivenStay[c]!,
    })),
  ];
}

/**
 * The gradient of the penalised log-likelihood by the logit of each share: expected hits minus trials times the share.
 */
function scoreAt(setup: LearningSetup, rates: Rates, learnt: readonly LearntShare[], logits: readonly number[]): number[] {
  const shares = logits.map((one) => 1 / (1 + Math.exp(-one)));
  const [witnesses, classes] = [rates.saysOnGivenOff.length, rates.movedGivenChange.length];
  const afterErrors = 2 * witnesses + 1;
  const moved: Rates = {
    saysOnGivenOff: shares.slice(0, witnesses),
    saysOffGivenOn: shares.slice(witnesses, 2 * witnesses),
    changes: shares[2 * witnesses]!,
    movedGivenChange: shares.slice(afterErrors, afterErrors + classes),
    movedGivenStay: shares.slice(afterErrors + classes),
  };
  const counts = expectedCounts(setup, smooth(setup.observations.chain, chainLogs(setup, moved)));
  return learnt.map(({ prior, countOf }, i) => {
    const { hits, trials } = countOf(counts);
    return hits + prior.alpha - 1 - (trials + prior.alpha + prior.beta - 2) * shares[i]!;
  });
}

function logit(share: number): number {
  return Math.log(share / (1 - share));
}
