/* eslint-disable @typescript-eslint/no-non-null-assertion -- segments, boundaries and their posteriors are parallel lists */
import { HOUR_MS } from "../../ground/units.js";
import { ERROR_PRIOR, MOST_ERROR_SHARE, type BetaPrior } from "../reference/priors.js";
import type { SegmentStirs } from "./stir-evidence.js";

/**
 * What may lie at a boundary of a person with stir signals: a door moved; an unusual silence, or darkness, began or ended; or the
 * diary did, close to a door that dates what it rounds.
 */
export type StirBoundary = "door" | "lull" | "dark" | "written";

/** What a person's stirs are read with. Shares 0..1. */
export interface StirRates {
  /** Somebody stirs soon after a door shut, given that nobody (somebody) is there then. */
  readonly afterGivenOff: number;
  readonly afterGivenOn: number;
  /** Somebody stirred just before a door opened, likewise. */
  readonly beforeGivenOff: number;
  readonly beforeGivenOn: number;
  /** Goings about per millisecond while nobody is there: a pet, a robot, sunlight. */
  readonly falsePerMs: number;
  /** A used door means that the person leaves, if here; and comes, if away. */
  readonly leaves: number;
  readonly comes: number;
}

/** How likely each change was, after the fact: by boundary, from here to away and from away to here. */
export interface ChangeMasses {
  readonly left: Float64Array;
  readonly came: Float64Array;
}

/** Weak, and about even where nothing is known. Our own choices. */
const STIRS_AT_HOME: BetaPrior = { alpha: 3, beta: 2 };
const LEAVES: BetaPrior = { alpha: 2, beta: 3 };
/** Who is away and whose door moves has mostly come home. Our own choice. */
const COMES: BetaPrior = { alpha: 6, beta: 1.5 };
/**
 * At the edge of an unusual silence the person came or went though no door tells. Not learnt: a silence that is unusual and an
 * absence that no door saw look the same. Our own choice.
 */
const UNSEEN_SHARE = 0.01;
/** As if a quarter of a false going about had been seen in a day away. A Gamma prior; our own choice. */
const FALSE_EVENTS = 0.25;
const FALSE_MS = 24 * HOUR_MS;
/** The rates looked among (per millisecond). */
const LEAST_FALSE = 1e-3 / HOUR_MS;
const MOST_FALSE = 4 / HOUR_MS;
const SEARCH_STEPS = 40;

/** Where learning begins: few false stirs, or, with a pet, many. The better end is kept. */
export const startingStirRates = (petted: boolean): StirRates => ({
  afterGivenOff: petted ? 0.2 : 0.05,
  afterGivenOn: 0.8,
  beforeGivenOff: petted ? 0.2 : 0.05,
  beforeGivenOn: 0.8,
  falsePerMs: (petted ? 0.5 : 0.01) / HOUR_MS,
  leaves: 0.4,
  comes: 0.9,
});

/** The log-likelihood of each segment, off and on by turns. */
export function stirLogs(segments: readonly SegmentStirs[], rates: StirRates): Float64Array {
  const logs = new Float64Array(2 * segments.length);
  const told = (k: number, vote: 0 | 1 | 2, givenOff: number, givenOn: number): void => {
    if (vote === 2) return;
    logs[2 * k]! += Math.log(vote === 1 ? givenOff : 1 - givenOff);
    logs[2 * k + 1]! += Math.log(vote === 1 ? givenOn : 1 - givenOn);
  };
  segments.forEach(({ after, before, body }, k) => {
    told(k, after, rates.afterGivenOff, rates.afterGivenOn);
    told(k, before, rates.beforeGivenOff, rates.beforeGivenOn);
    if (body === null) return;
    logs[2 * k]! += falseLog(body, rates.falsePerMs);
    logs[2 * k + 1]! += body.logGivenOn;
  });
  return logs;
}

/** How likely a change is at each boundary, if the person is here, and if away; null where the general share holds. */
export function changeShares(sort: StirBoundary, rates: StirRates): { readonly leaves: number; readonly comes: number } {
  if (sort === "dark") return { leaves: 0.5, comes: 0.5 };
  return sort === "door" ? rates : { leaves: UNSEEN_SHARE, comes: UNSEEN_SHARE };
}

/** The best rates for these posteriors, each by itself: exact under its prior. `on[k]`: of segment k. */
export function maximiseStirs(
  segments: readonly SegmentStirs[],
  sorts: readonly (StirBoundary | undefined)[],
  on: Float64Array,
  { left, came }: ChangeMasses,
): StirRates {
  const votes = (which: "after" | "before"): Pick<StirRates, "afterGivenOff" | "afterGivenOn"> => {
    const [off, here] = [counter(), counter()];
    segments.forEach((one, k) => {
      if (one[which] === 2) return;
      off.add(1 - on[k]!, one[which] === 1);
      here.add(on[k]!, one[which] === 1);
    });
    const [givenOff, givenOn] = [Math.min(off.mode(ERROR_PRIOR), MOST_ERROR_SHARE), here.mode(STIRS_AT_HOME)];
    // Nobody stirs less for being there.
    return { afterGivenOff: givenOff, afterGivenOn: Math.max(givenOn, givenOff) };
  };
  const [leaves, comes] = [counter(), counter()];
  sorts.forEach((sort, b) => {
    if (sort !== "door") return;
    leaves.addShare(left[b]!, on[b]!);
    comes.addShare(came[b]!, 1 - on[b]!);
  });
  const [after, before] = [votes("after"), votes("before")];
  return {
    ...after,
    beforeGivenOff: before.afterGivenOff,
    beforeGivenOn: before.afterGivenOn,
    falsePerMs: bestFalseRate(segments, on),
    leaves: leaves.mode(LEAVES),
    comes: comes.mode(COMES),
  };
}

/** Log prior density, without the constant. */
export function stirLogPriors(rates: StirRates): number {
  const log = (share: number, { alpha, beta }: BetaPrior): number => (alpha - 1) * Math.log(share) + (beta - 1) * Math.log(1 - share);
  return (
    log(rates.afterGivenOff, ERROR_PRIOR) + log(rates.beforeGivenOff, ERROR_PRIOR) + log(rates.afterGivenOn, STIRS_AT_HOME) +
    log(rates.beforeGivenOn, STIRS_AT_HOME) + log(rates.leaves, LEAVES) + log(rates.comes, COMES) +
    falsePrior(rates.falsePerMs)
  );
}

function falsePrior(perMs: number): number {
  return FALSE_EVENTS * Math.log(perMs) - perMs * FALSE_MS;
}

/** Golden-section search on the logarithm: the sum of log-concave terms has one top. */
function bestFalseRate(segments: readonly SegmentStirs[], on: Float64Array): number {
  const bodies = segments.flatMap(({ body }, k) => (body === null || on[k]! > 1 - 1e-9 ? [] : [{ body, away: 1 - on[k]! }]));
  const worth = (log: number): number => {
    const perMs = Math.exp(log);
    return bodies.reduce((sum, { body, away }) => sum + away * falseLog(body, perMs), falsePrior(perMs));
  };
  const golden = (Math.sqrt(5) - 1) / 2;
  let [low, high] = [Math.log(LEAST_FALSE), Math.log(MOST_FALSE)];
  for (let i = 0; i < SEARCH_STEPS; i += 1) {
    const [a, b] = [high - golden * (high - low), low + golden * (high - low)];
    if (worth(a) < worth(b)) low = a;
    else high = b;
  }
  return Math.exp((low + high) / 2);
}

/** Of at least so many false goings about in the time, by a Poisson distribution; none: exactly none. */
function falseLog({ clumps, ms }: NonNullable<SegmentStirs["body"]>, perMs: number): number {
  const mean = perMs * ms;
  if (clumps === 0) return -mean;
  let [fewer, term] = [0, Math.exp(-mean)];
  for (let n = 0; n < clumps; n += 1) {
    fewer += term;
    term *= mean / (n + 1);
  }
  // For small means the difference is lost in rounding: then the first term left is all of it, nearly.
  return mean < 1e-3 ? Math.log(term) : Math.log(Math.max(1 - fewer, 1e-12));
}

interface Counter {
  readonly add: (weight: number, isHit: boolean) => void;
  readonly addShare: (hits: number, trials: number) => void;
  readonly mode: (prior: BetaPrior) => number;
}

function counter(): Counter {
  let [hits, trials] = [0, 0];
  return {
    add: (weight, isHit) => {
      trials += weight;
      if (isHit) hits += weight;
    },
    addShare: (more, of) => {
      hits += more;
      trials += of;
    },
    mode: ({ alpha, beta }) => (hits + alpha - 1) / (trials + alpha + beta - 2),
  };
}
