/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices are of units, and every list of standings has a place for each of them */
import { permute, rollup, sum } from "d3-array";
import type { FleetStanding } from "../../result/fleet.js";
import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { binomialCdf, chiSquareQuantile } from "../../statistics/distributions.js";
import type { Counted } from "./counted.js";
import { atLeast, countQuantiles } from "./mixed.js";
import { likeliestShape } from "./shape.js";
import { spreadFor, tamed, type Usual, usualOf } from "./usual.js";
import { lookUp } from "../../ground/look-up.js";

/** Fewer fellows than this show no usual spread: nobody is then called worse. */
const FEWEST_FELLOWS = 3;

/** What is compared: wrong changes and false reports, stretches without a word, and turns taken back at once. */
export const measures = ["faults", "silences", "flickers"] as const;
/** One of {@link measures}. */
export type Measure = (typeof measures)[number];

/** Every unit in every measure. */
export type Measured = Readonly<Record<Measure, readonly Counted[]>>;

/**
 * Units that are compared with one another (indices), and the groups of them that get a standing, each with its place
 * in the result. `apart`: units that are no fellows of the group; itself, if nothing is said.
 */
export interface Fellows {
  readonly within: readonly number[];
  readonly groups: readonly { readonly place: number; readonly of: readonly number[]; readonly apart?: readonly number[] }[];
}

/** A group's standing in every measure. */
export type Standings = Readonly<Record<Measure, FleetStanding>>;

/** One group of units against all others. Ratios are of its own rate to that of all units. */
export type Standing = Omit<FleetStanding, "adjustedPValue" | "standsOut">;

const unknown = { expected: null, controlLow: null, controlHigh: null, pooledRatio: null, pooledLow: null, pooledHigh: null, pValue: null };

/** All groups of a family in every measure, in the order of their places; a place without a group is not compared. */
export type Compared = Readonly<Record<Measure, readonly Standing[]>>;

/** Compares all groups of a family, each among its fellows and in every measure. */
export function compareFamily(measured: Measured, fellowships: readonly Fellows[], places: number, confidence: number): Compared {
  const of = (measure: Measure): Standing[] => standingsOf(measured[measure], fellowships, places, confidence);
  return { faults: of("faults"), silences: of("silences"), flickers: of("flickers") };
}

/** A fleet is asked twice, by its bays and by what watches them: each may raise half of the false alarms. Our own choice. */
const ASKED = 2;

/**
 * Who of a family stands out: p-values are adjusted over all groups and measures. A group does when its adjusted p-value
 * is below half of 1 − confidence: of those that stand out, at most that share is expected to do so by chance.
 */
export function standFamily(compared: Compared, confidence: number): Standings[] {
  const tested = measures.flatMap((measure) => compared[measure]).filter((one) => one.pValue !== null);
  const adjusted = adjustPValues(tested.map((one) => one.pValue ?? 1));
  const adjustedOf = new Map(tested.map((one, i) => [one, adjusted[i]]));
  const finished = (one: Standing): FleetStanding => {
    const adjustedPValue = adjustedOf.get(one) ?? null;
    return { ...one, adjustedPValue, standsOut: adjustedPValue !== null && adjustedPValue < (1 - confidence) / ASKED };
  };
  return compared.faults.map((faults, place) => ({
    faults: finished(faults),
    silences: finished(compared.silences[place]!),
    flickers: finished(compared.flickers[place]!),
  }));
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
): Standing[] {
  const standings = Array.from({ length: places }, (): Standing => ({ count: 0, ...unknown }));
  for (const { within, groups } of fellowships) {
    const indexWithin = new Map(within.map((unit, i) => [unit, i]));
    const inside = (of: readonly number[]): number[] => of.map((unit) => lookUp(indexWithin, unit));
    const compared = compareGroups(
      permute(counted, within),
      groups.map(({ of }) => inside(of)),
      confidence,
      groups.map(({ of, apart }) => inside(apart ?? of)),
    );
    groups.forEach(({ place }, i) => (standings[place] = compared[i]!));
  }
  return standings;
}

/**
 * Compares each group (lists of indices into `units`; single units are groups of one) with all units outside it, or outside what
 * is set apart for it.
 *
 * Units differ in their true rates by nature, and nobody knows how much or how seldom one is far off: natures that the fellows'
 * counts do not rule out are reckoned with, gamma and lognormal, up to the widest; the group itself is left out of that, so that a bad
 * one does not widen the yardstick it is measured with, and other bad ones bend neither it nor the rate (see `usualOf`). A group of
 * several has the sum of its units' rates. From that:
 * - control limits for the group's own exposure: the outermost quantiles of the count, both tails together 1 − confidence;
 * - the pooled ratio and its interval: the posterior of the group's rate relative to the usual one, gamma distributed with a shape
 *   fitted to all, itself among them: (shape + count) / (shape + expected). A bay with three arrivals stays near 1,
 *   neither best nor worst (empirical Bayes). Here the bad ones do belong to the spread, or a bad one would be drawn to
 *   1 as if it could not be;
 * - the p-value: the largest of the chances of as many counts under those natures, and of the exact conditional test of
 *   the two rates (binomial), which knows that the fellows' rate is itself uncertain. Our own choice, on the safe side.
 */
export function compareGroups(units: readonly Counted[], groups: readonly (readonly number[])[], confidence: number, apart = groups): Standing[] {
  const without = usualOf(units);
  const overallRate = without([]).rate;
  const shapeOfAll = likeliestShape(units, overallRate);
  const seen = units.filter((one) => one.exposure > 0).length;
  const standing = (members: readonly number[], noFellows: readonly number[]): Standing => {
    const own = permute(units, members);
    const count = sum(own, (one) => one.count);
    const exposure = sum(own, (one) => one.exposure);
    if (exposure <= 0 || seen - noFellows.filter((index) => units[index]!.exposure > 0).length < FEWEST_FELLOWS) return { count, ...unknown };
    // How many units of equal exposure the group is worth: the spread of their sum is narrower by that factor.
    const worth = members.length === 1 ? 1 : exposure ** 2 / sum(own, (one) => one.exposure ** 2);
    const usual = without(noFellows);
    const expected = exposure * usual.rate;
    const small = tamed(count, expected);
    const spreads = usual.natures.map((one) => spreadFor(one, worth));
    const ends = spreads.map((one) => countQuantiles([(1 - confidence) / 2, (1 + confidence) / 2], small.expected, one).map((end) => Math.round(end * small.scale)));
    return {
      count,
      expected,
      controlLow: Math.min(...ends.map(([low]) => low!)),
      controlHigh: Math.max(...ends.map(([, high]) => high!)),
      ...pooled(count, exposure * overallRate, shapeOfAll * worth, confidence),
      pValue: pValueOf(count, exposure, usual, Math.max(...spreads.map((one) => atLeast(small.count, small.expected, one)))),
    };
  };
  // Units that are alike stand alike.
  const known = new Map<string, Standing>();
  return groups.map((members, i) => {
    const [only, other] = members;
    if (only === undefined || other !== undefined) return standing(members, apart[i]!);
    const key = `${units[only]!.count} ${units[only]!.exposure}`;
    const found = known.get(key) ?? standing(members, members);
    known.set(key, found);
    // Each place has its own object: p-values are adjusted by it.
    return { ...found };
  });
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

function pValueOf(count: number, exposure: number, fellows: Usual, byNature: number): number {
  if (count === 0) return 1;
  // P(own ≥ count) given the sum is P(fellows' ≤ theirs), counted from the other side so that small values keep their
  // digits.
  const theirs = Math.round(fellows.events);
  const conditional = binomialCdf(theirs, count + theirs, fellows.exposure / (exposure + fellows.exposure));
  return Math.min(1, Math.max(conditional, byNature));
}
