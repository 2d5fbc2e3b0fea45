/* eslint-disable @typescript-eslint/no-non-null-assertion --
   the tables of learning: by kind of segment or boundary, by witness, or by class of neighbours, as `Observations`
   numbers them */
import { smooth, type ChainLogs, type Smoothed } from "./chain.js";
import type { Observations } from "./observations.js";
import type { SegmentStirs } from "../stirs/stir-evidence.js";
import { changeShares, maximiseStirs, stirLogPriors, stirLogs, type ChangeMasses, type StirBoundary, type StirRates } from "../stirs/stir-rates.js";
import {
  ERROR_PRIOR,
  LEAST_GAIN,
  MOST_ERROR_SHARE,
  MOST_ITERATIONS,
  MOST_SWITCH_SHARE,
  MOVED_MARGIN,
  MOVED_PRIOR,
  SWITCH_PRIOR,
  type BetaPrior,
} from "./priors.js";

/** Every share in the model. Lists are by witness, `moved…` by class of neighbours. */
export interface Rates {
  readonly saysOnGivenOff: readonly number[];
  readonly saysOffGivenOn: readonly number[];
  readonly changes: number;
  readonly movedGivenChange: readonly number[];
  readonly movedGivenStay: readonly number[];
  /** Of a person with stir signals. */
  readonly stirs?: StirRates;
}

/** Expected events `hits` in `trials` behind one share, given the rates; both weighted, fractions of segments. */
export interface ExpectedCount {
  readonly hits: number;
  readonly trials: number;
}

/** {@link Rates}, counted, but for `stirs`. */
export interface ExpectedCounts {
  readonly saysOnGivenOff: readonly ExpectedCount[];
  readonly saysOffGivenOn: readonly ExpectedCount[];
  readonly changes: ExpectedCount;
  readonly movedGivenChange: readonly ExpectedCount[];
  readonly movedGivenStay: readonly ExpectedCount[];
}

/** What stays fixed while learning. `weights[kind][witness]`: how much of a full voice the witness has there. */
export interface LearningSetup {
  readonly observations: Observations;
  readonly weights: readonly (readonly number[])[];
  readonly stayPriors: readonly BetaPrior[];
  /** False holds every witness's error rates where they start. */
  readonly learnErrors: boolean;
  /** What each segment shows of a person with stir signals. */
  readonly stirs?: readonly SegmentStirs[];
}

/** Where learning ended. `objectives[i]`: penalised log-likelihood before iteration i; it never falls. */
export interface Learnt {
  readonly rates: Rates;
  readonly smoothed: Smoothed;
  readonly counts: ExpectedCounts;
  readonly objectives: readonly number[];
  readonly iterations: number;
  readonly gain: number;
  readonly converged: boolean;
}

/**
 * Expectation-maximisation of the chain: votes are independent given the truth, a witness's vote to the power of its
 * weight; at a boundary the state changes with one share everywhere, times how likely the movements nearby are if it
 * does or does not. The classes of neighbours tend to move together, so each counts to the power of 1 / their number.
 * Where only the diary begins or ends both are equally likely, and that share is not learnt there: a diary of many
 * short entries would make every change incredible. Maximises the likelihood times Beta priors
 * (src/truth/reference/priors.ts) under the constraints stated there: error rates at most {@link MOST_ERROR_SHARE},
 * which excludes the mirror solution; changes at most {@link MOST_SWITCH_SHARE}; movements at least as common at
 * changes as elsewhere. Each maximisation is exact under its constraint, so the objective never falls. Deterministic.
 * Source of the idea: Dawid & Skene (1979); of learning a hidden chain: Baum et al. (1970) (text not seen).
 */
export function learn(setup: LearningSetup, start: Rates): Learnt {
  const objectives: number[] = [];
  let rates = start;
  let smoothed = smooth(setup.observations.chain, chainLogs(setup, rates));
  let objective = smoothed.logLikelihood + logPriors(setup, rates);
  for (;;) {
    objectives.push(objective);
    const next = maximise(setup, rates, expectedCounts(setup, smoothed), smoothed);
    smoothed = smooth(setup.observations.chain, chainLogs(setup, next));
    const reached = smoothed.logLikelihood + logPriors(setup, next);
    const gain = reached - objective;
    rates = next;
    objective = reached;
    const converged = gain < LEAST_GAIN;
    if (converged || objectives.length >= MOST_ITERATIONS) {
      return {
        rates,
        smoothed,
        counts: expectedCounts(setup, smoothed),
        objectives: [...objectives, objective],
        iterations: objectives.length,
        gain,
        converged,
      };
    }
  }
}

/** The tables of the chain at these rates. */
export function chainLogs(setup: LearningSetup, rates: Rates): ChainLogs {
  const { observations, weights } = setup;
  const { kinds, moves, diaryOnly } = observations;
  const emission = new Float64Array(2 * kinds.length);
  kinds.forEach(({ votes, written }, kind) => {
    votes.forEach((vote, w) => {
      if (vote === 2) return;
      const weight = weights[kind]![w]!;
      const [falseOn, falseOff] = [rates.saysOnGivenOff[w]!, rates.saysOffGivenOn[w]!];
      emission[2 * kind]! += weight * Math.log(vote === 1 ? falseOn : 1 - falseOn);
      emission[2 * kind + 1]! += weight * Math.log(vote === 1 ? 1 - falseOff : falseOff);
    });
    if (written !== 2) emission[2 * kind + 1 - written] = -Infinity;
  });
  const evidence = (shares: readonly number[], own: number): Float64Array =>
    Float64Array.from(
      moves,
      (row, move) =>
        Math.log(diaryOnly[move] === true ? 0.5 : own) +
        row.reduce((sum, moved, c) => (moved === 2 ? sum : sum + Math.log(moved === 1 ? shares[c]! : 1 - shares[c]!) / row.length), 0),
    );
  const plain = { emission, stay: evidence(rates.movedGivenStay, 1 - rates.changes), change: evidence(rates.movedGivenChange, rates.changes) };
  return setup.stirs === undefined || rates.stirs === undefined ? plain : withStirs(plain, observations, setup.stirs, rates.stirs);
}

/** Adds what stirs show of each segment, and the shares of change where a door moved or an unusual silence begins or ends. */
function withStirs(plain: ChainLogs, { sorts }: Observations, segments: readonly SegmentStirs[], rates: StirRates): ChainLogs {
  const shares = sorts.map((sort) => (sort === undefined ? null : changeShares(sort, rates)));
  const table = (given: Float64Array, own: (share: { leaves: number; comes: number }) => number): Float64Array =>
    given.map((log, move) => (shares[move] == null ? log : Math.log(own(shares[move]))));
  return {
    emission: plain.emission,
    stay: table(plain.stay, ({ comes }) => 1 - comes),
    change: table(plain.change, ({ comes }) => comes),
    fromOn: { stay: table(plain.stay, ({ leaves }) => 1 - leaves), change: table(plain.change, ({ leaves }) => leaves) },
    ownEmission: stirLogs(segments, rates),
  };
}

/** The expected counts behind every share, from the posteriors. */
export function expectedCounts({ observations, weights, stayPriors }: LearningSetup, smoothed: Smoothed): ExpectedCounts {
  const { chain, kinds, moves, diaryOnly, sorts } = observations;
  const on = new Float64Array(kinds.length);
  const all = new Float64Array(kinds.length);
  chain.kindOf.forEach((kind, k) => {
    on[kind]! += smoothed.on[k]!;
    all[kind]! += 1;
  });
  const changed = new Float64Array(moves.length);
  const bounds = new Float64Array(moves.length);
  chain.moveOf.forEach((move, b) => {
    changed[move]! += smoothed.changed[b]!;
    bounds[move]! += 1;
  });
  const seenOnly = (masses: Float64Array): number => masses.reduce((sum, one, move) => (diaryOnly[move] === true || sorts[move] !== undefined ? sum : sum + one), 0);
  const witnesses = kinds[0]!.votes.map((_, w) => w);
  const errors = (wrong: 0 | 1, massOf: (kind: number) => number): ExpectedCount[] =>
    witnesses.map((w) =>
      counted(
        kinds,
        (kind, index) => (kind.votes[w] === 2 ? 0 : massOf(index) * weights[index]![w]!),
        (kind) => kind.votes[w] === wrong,
      ),
    );
  // Not from the boundaries: a subject that never changed has none, and its neighbours keep the shares their priors
  // give.
  const classes = stayPriors.map((_, c) => c);
  const movements = (massOf: (move: number) => number): ExpectedCount[] =>
    classes.map((c) =>
      counted(
        moves,
        (row, index) => (row[c] === 2 ? 0 : massOf(index) / row.length),
        (row) => row[c] === 1,
      ),
    );
  return {
    saysOnGivenOff: errors(1, (kind) => all[kind]! - on[kind]!),
    saysOffGivenOn: errors(0, (kind) => on[kind]!),
    changes: { hits: seenOnly(changed), trials: seenOnly(bounds) },
    movedGivenChange: movements((move) => changed[move]!),
    movedGivenStay: movements((move) => bounds[move]! - changed[move]!),
  };
}

function counted<Row>(rows: readonly Row[], massOf: (row: Row, index: number) => number, isHit: (row: Row) => boolean): ExpectedCount {
  let [hits, trials] = [0, 0];
  rows.forEach((row, index) => {
    const mass = massOf(row, index);
    trials += mass;
    if (isHit(row)) hits += mass;
  });
  return { hits, trials };
}

function maximise({ stayPriors, learnErrors, stirs, observations }: LearningSetup, before: Rates, counts: ExpectedCounts, smoothed: Smoothed): Rates {
  const error = (one: ExpectedCount): number => Math.min(mode(one, ERROR_PRIOR), MOST_ERROR_SHARE);
  const moved = counts.movedGivenChange.map((given, c) => movedShares(given, counts.movedGivenStay[c]!, stayPriors[c]!));
  return {
    saysOnGivenOff: learnErrors ? counts.saysOnGivenOff.map(error) : before.saysOnGivenOff,
    saysOffGivenOn: learnErrors ? counts.saysOffGivenOn.map(error) : before.saysOffGivenOn,
    changes: Math.min(mode(counts.changes, SWITCH_PRIOR), MOST_SWITCH_SHARE),
    movedGivenChange: moved.map((one) => one.change),
    movedGivenStay: moved.map((one) => one.stay),
    ...(stirs === undefined || before.stirs === undefined ? {} : { stirs: maximiseStirs(stirs, sortsOf(observations), smoothed.on, massesOf(smoothed)) }),
  };
}

function sortsOf({ chain, sorts }: Observations): (StirBoundary | undefined)[] {
  return Array.from(chain.moveOf, (move) => sorts[move]);
}

function massesOf({ changed, left = new Float64Array(changed.length) }: Smoothed): ChangeMasses {
  return { left, came: changed.map((mass, b) => Math.max(0, mass - left[b]!)) };
}

/** If the shares come in the wrong order, the best pair in the right order is one share for both. */
function movedShares(change: ExpectedCount, stay: ExpectedCount, stayPrior: BetaPrior): { change: number; stay: number } {
  const within = (share: number): number => Math.min(Math.max(share, MOVED_MARGIN), 1 - MOVED_MARGIN);
  const [givenChange, givenStay] = [mode(change, MOVED_PRIOR), mode(stay, stayPrior)];
  if (givenChange >= givenStay) return { change: within(givenChange), stay: within(givenStay) };
  const pooled = mode(
    { hits: change.hits + stay.hits, trials: change.trials + stay.trials },
    { alpha: MOVED_PRIOR.alpha + stayPrior.alpha - 1, beta: MOVED_PRIOR.beta + stayPrior.beta - 1 },
  );
  return { change: within(pooled), stay: within(pooled) };
}

function mode({ hits, trials }: ExpectedCount, prior: BetaPrior): number {
  return (hits + prior.alpha - 1) / (trials + prior.alpha + prior.beta - 2);
}

/** Log prior density of the learnt shares; without the constant. */
function logPriors({ stayPriors, learnErrors }: LearningSetup, rates: Rates): number {
  const log = (share: number, prior: BetaPrior): number => (prior.alpha - 1) * Math.log(share) + (prior.beta - 1) * Math.log(1 - share);
  const errors = learnErrors ? [...rates.saysOnGivenOff, ...rates.saysOffGivenOn] : [];
  return (
    (rates.stirs === undefined ? 0 : stirLogPriors(rates.stirs)) +
    errors.reduce((sum, one) => sum + log(one, ERROR_PRIOR), log(rates.changes, SWITCH_PRIOR)) +
    rates.movedGivenChange.reduce((sum, one, c) => sum + log(one, MOVED_PRIOR) + log(rates.movedGivenStay[c]!, stayPriors[c]!), 0)
  );
}
