/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices are of units, and every list of standings has a place for each of them */
import { permute, rollup, sum } from "d3-array";
import type { FleetStanding } from "../../result/fleet.js";
import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { binomialCdf, chiSquareQuantile } from "../../statistics/distributions.js";
import { refittedShape, shapeFitter } from "./shape-fit.js";
import { atLeastProbability, countQuantile } from "./spread.js";
import { lookUp } from "../../ground/look-up.js";

/** Fewer fellows than this show no usual spread: nobody is then called worse. */
const FEWEST_FELLOWS = 3;

/** What was counted of one unit, and its exposure: what the rate of all units together would bring it. */
export interface Counted {
  readonly count: number;
  readonly exposure: number;
}

/** What is compared: wrong changes and false reports, stretches without a word, and turns taken back at once. */
export const measures = ["faults", "silences", "flickers"] as const;
/** One of {@link measures}. */
export type Measure = (typeof measures)[number];

/** Every unit in every measure. */
export type Measured = Readonly<Record<Measure, readonly Counted[]>>;

/** Units (indices) that no rate and no spread is learnt from, by measure: one bad unit would bend both. */
export type LeftOut = Readonly<Record<Measure, ReadonlySet<number>>>;

/** Nobody is left out. */
export const NOBODY: LeftOut = { faults: new Set(), silences: new Set(), flickers: new Set() };

/**
 * Units that are compared with one another (indices), and the groups of them that get a standing, each with its place
 * in the result.
 */
export interface Fellows {
  readonly within: readonly number[];
  readonly groups: readonly { readonly place: number; readonly of: readonly number[] }[];
}

/** A group's standing in every measure. */
export type Standings = Readonly<Record<Measure, FleetStanding>>;

/** One group of units against all others. Ratios are of its own rate to that of all units. */
export type Standing = Omit<FleetStanding, "adjustedPValue" | "standsOut">;

const unknown = { expected: null, controlLow: null, controlHigh: null, pooledRatio: null, pooledLow: null, pooledHigh: null, pValue: null };

/**
 * Compares all groups of one family, each among its fellows and in every measure; p-values are adjusted over all of
 * them. A group stands out when its adjusted p-value is below 1 − confidence: of those that stand out, at most that
 * share is expected to do so by chance. A place without a group is not compared. The result is in the order of the
 * places.
 */
export function standFamily(
  measured: Measured,
  fellowships: readonly Fellows[],
  places: number,
  confidence: number,
  leftOut: LeftOut = NOBODY,
): Standings[] {
  const standings = measures.map((measure) => standingsOf(measured[measure], fellowships, places, confidence, leftOut[measure]));
  const tested = standings.flat().filter((one) => one.pValue !== null);
  const adjusted = adjustPValues(tested.map((one) => one.pValue ?? 1));
  const adjustedOf = new Map(tested.map((one, i) => [one, adjusted[i]]));
  const finished = (one: Standing): FleetStanding => {
    const adjustedPValue = adjustedOf.get(one) ?? null;
    return { ...one, adjustedPValue, standsOut: adjustedPValue !== null && adjustedPValue < 1 - confidence };
  };
  return Array.from({ length: places }, (_, place) => {
    const [faults, silences, flickers] = standings.map((of) => finished(of[place]!));
    return { faults: faults!, silences: silences!, flickers: flickers! };
  });
}

/** Each unit by itself among the units with the same key. */
export function eachAmong<Unit>(units: readonly Unit[], keyOf: (unit: Unit) => string): Fellows[] {
  const byKey = rollup(
    units.entries(),
    (of) => of.map(([index]) => index),
    ([, unit]) => keyOf(unit),
  );
  return [...byKey.values()].map((within) => ({ within, groups: within.map((index) => ({ place: index, of: [index] })) }));
}

function standingsOf(
  counted: readonly Counted[],
  fellowships: readonly Fellows[],
  places: number,
  confidence: number,
  leftOut: ReadonlySet<number>,
): Standing[] {
  const standings = Array.from({ length: places }, (): Standing => ({ count: 0, ...unknown }));
  for (const { within, groups } of fellowships) {
    const indexWithin = new Map(within.map((unit, i) => [unit, i]));
    const compared = compareGroups(
      permute(counted, within),
      groups.map(({ of }) => of.map((unit) => lookUp(indexWithin, unit))),
      confidence,
      new Set(within.flatMap((unit, i) => (leftOut.has(unit) ? [i] : []))),
    );
    groups.forEach(({ place }, i) => (standings[place] = compared[i]!));
  }
  return standings;
}

/**
 * Compares each group (lists of indices into `units`; single units are groups of one) with all units outside it.
 *
 * Units differ in their true rates by nature: the relative rates are taken as gamma distributed with mean 1 and a shape
 * fitted to the fellows by maximum likelihood (negative binomial counts), *without the group itself*, so that a bad one
 * does not widen the yardstick it is measured with. A group of several has the sum of its units' rates, matched by a
 * gamma with the same mean and variance. From that:
 * - control limits for the group's own exposure: quantiles of the count, both tails together 1 − confidence;
 * - the pooled ratio and its interval: the posterior of the group's rate relative to that of all units, with the shape
 *   fitted to all, itself among them: (shape + count) / (shape + expected). A bay with three arrivals stays near 1,
 *   neither best nor worst (empirical Bayes). Here the bad ones do belong to the spread, or a bad one would be drawn to
 *   1 as if it could not be;
 * - the p-value: the larger of the chance of as many counts under the fellows' spread, and of the exact conditional
 *   test of the two rates (binomial), which knows that the fellows' rate is itself uncertain. Our own choice, on the
 *   safe side. The fitted shape is taken as known; tests/bench/fleet.ts measures what that does to false alarms.
 */
export function compareGroups(
  units: readonly Counted[],
  groups: readonly (readonly number[])[],
  confidence: number,
  leftOut: ReadonlySet<number> = new Set(),
): Standing[] {
  const isKept = (index: number): boolean => !leftOut.has(index);
  const kept = leftOut.size === 0 ? units : units.filter((_, index) => isKept(index));
  const totals = { count: sum(kept, (one) => one.count), exposure: sum(kept, (one) => one.exposure) };
  const overallRate = totals.exposure === 0 ? 0 : totals.count / totals.exposure;
  const fit = shapeFitter(units, overallRate, leftOut);
  const shapeOfAll = refittedShape(units, overallRate, new Set());
  const seenOf = (some: readonly Counted[]): number => some.filter((one) => one.exposure > 0).length;
  const seen = seenOf(kept);

  return groups.map((members): Standing => {
    const own = permute(units, members);
    const count = sum(own, (one) => one.count);
    const exposure = sum(own, (one) => one.exposure);
    const ownKept = permute(units, members.filter(isKept));
    const fellows = {
      count: totals.count - sum(ownKept, (one) => one.count),
      exposure: totals.exposure - sum(ownKept, (one) => one.exposure),
      seen: seen - seenOf(ownKept),
    };
    // What is left of the exposure after a subtraction may be rounding only.
    if (exposure <= 0 || fellows.seen < FEWEST_FELLOWS || fellows.exposure <= 1e-12 * totals.exposure) return { count, ...unknown };
    const fellowsRate = fellows.count / fellows.exposure;
    const expected = exposure * fellowsRate;
    // How many units of equal exposure the group is worth: the spread of their sum is narrower by that factor.
    const worth = exposure ** 2 / sum(own, (one) => one.exposure ** 2);
    const shape = fit(members, fellowsRate) * worth;
    return {
      count,
      expected,
      ...limits(expected, shape, confidence),
      ...pooled(count, exposure * overallRate, shapeOfAll * worth, confidence),
      pValue: pValueOf(count, exposure, fellows, expected, shape),
    };
  });
}

function limits(expected: number, shape: number, confidence: number): Pick<Standing, "controlLow" | "controlHigh"> {
  return {
    controlLow: countQuantile((1 - confidence) / 2, { expected, shape }),
    controlHigh: countQuantile((1 + confidence) / 2, { expected, shape }),
  };
}

/** Mean and equal-tailed interval of the gamma posterior with shape + count and rate shape + expected. */
function pooled(
  count: number,
  expected: number,
  shape: number,
  confidence: number,
): Pick<Standing, "pooledRatio" | "pooledLow" | "pooledHigh"> {
  const end = (probability: number): number => chiSquareQuantile(probability, 2 * (shape + count)) / 2 / (shape + expected);
  return { pooledRatio: (shape + count) / (shape + expected), pooledLow: end((1 - confidence) / 2), pooledHigh: end((1 + confidence) / 2) };
}

function pValueOf(count: number, exposure: number, fellows: Counted, expected: number, shape: number): number {
  if (count === 0) return 1;
  // P(own ≥ count) given the sum is P(fellows' ≤ theirs), counted from the other side so that small values keep their
  // digits.
  const conditional = binomialCdf(fellows.count, count + fellows.count, fellows.exposure / (exposure + fellows.exposure));
  return Math.min(1, Math.max(conditional, atLeastProbability(count, { expected, shape })));
}
