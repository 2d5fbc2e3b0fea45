import { binomialCdf, chiSquareQuantile } from "../../statistics/distributions.js";
import { addLikelihood, atLeastProbability, countQuantile, likeliestShape, risingPart, shapes } from "./spread.js";

/** Fewer fellows than this show no usual spread: nobody is then called worse. */
export const FEWEST_FELLOWS = 3;

/** Up to this many members the spread is worked out anew around the fellows' own rate; beyond, one group hardly moves the rate of all. */
const MOST_REFITTED = 1000;

/** What was counted of one member, and its exposure: what all members' rate together would bring it. */
export interface Member {
  readonly count: number;
  readonly exposure: number;
}

/** One group of members against all others. Ratios are of its own rate to that of all members. */
export interface Standing {
  readonly count: number;
  /** What the fellows' rate leads one to expect; null where there are too few fellows, and then all below is null too. */
  readonly expected: number | null;
  readonly controlLow: number | null;
  readonly controlHigh: number | null;
  /** Partly pooled: drawn towards 1 the more, the less was seen of the group. */
  readonly pooledRatio: number | null;
  readonly pooledLow: number | null;
  readonly pooledHigh: number | null;
  /** For "not worse than its fellows", one-sided. */
  readonly pValue: number | null;
}

const unknown = { expected: null, controlLow: null, controlHigh: null, pooledRatio: null, pooledLow: null, pooledHigh: null, pValue: null };

/**
 * Compares each group (lists of indices into `members`; single members are groups of one) with all members outside it.
 *
 * Members differ in their true rates by nature: the relative rates are taken as gamma distributed with mean 1 and a shape
 * fitted to the fellows by maximum likelihood (negative binomial counts), *without the group itself*, so that a bad one does
 * not widen the yardstick it is measured with. A group of several has the sum of its members' rates, matched by a gamma
 * with the same mean and variance. From that:
 * - control limits for the group's own exposure: quantiles of the count, both tails together 1 − confidence;
 * - the pooled ratio and its interval: the posterior of the group's rate relative to that of all members, with the shape
 *   fitted to all, itself among them: (shape + count) / (shape + expected). A bay with three arrivals stays near 1, neither
 *   best nor worst (empirical Bayes). Here the bad ones do belong to the spread, or a bad one would be drawn to 1 as if it could not be;
 * - the p-value: the larger of the chance of so many counts under the fellows' spread, and of the exact conditional test of
 *   the two rates (binomial), which knows that the fellows' rate is itself uncertain. Our own choice, on the safe side.
 * The fitted shape is taken as known; tests/bench/fleet.ts measures what that does to false alarms.
 */
export function compareGroups(members: readonly Member[], groups: readonly (readonly number[])[], confidence: number): Standing[] {
  const totals = { count: sumOf(members, (one) => one.count), exposure: sumOf(members, (one) => one.exposure) };
  const overallRate = totals.exposure === 0 ? 0 : totals.count / totals.exposure;
  const fit = shapeFitter(members, overallRate);
  const shapeOfAll = fit([], overallRate);
  const seen = members.filter((one) => one.exposure > 0).length;

  return groups.map((group): Standing => {
    const own = group.map((index) => members[index]!);
    const count = sumOf(own, (one) => one.count);
    const exposure = sumOf(own, (one) => one.exposure);
    const fellows = { count: totals.count - count, exposure: totals.exposure - exposure, seen: seen - own.filter((one) => one.exposure > 0).length };
    if (exposure <= 0 || fellows.seen < FEWEST_FELLOWS || fellows.exposure <= 1e-12 * totals.exposure) return { count, ...unknown };
    const rate = fellows.count / fellows.exposure;
    const memberShape = fit(group, rate);
    const expected = exposure * rate;
    // How many members of equal exposure the group is worth: the spread of their sum is that much narrower.
    const worth = exposure ** 2 / sumOf(own, (one) => one.exposure ** 2);
    const shape = memberShape * worth;
    return { count, expected, ...limits(expected, shape, confidence), ...pooled(count, exposure * overallRate, shapeOfAll * worth, confidence), pValue: pValueOf(count, exposure, fellows, expected, shape) };
  });
}

/** Fits the shape to all members but a group, around the fellows' rate (around the rate of all where there are very many). */
function shapeFitter(members: readonly Member[], overallRate: number): (group: readonly number[], fellowsRate: number) => number {
  const rising = members.map((one) => risingPart(one.count));
  const add = (summed: Float64Array, index: number, rate: number, sign: 1 | -1): void => addLikelihood(summed, rising[index]!, members[index]!.count, members[index]!.exposure * rate, sign);
  const all = new Float64Array(shapes.length);
  members.forEach((_, index) => add(all, index, overallRate, 1));
  return (group, fellowsRate) => {
    const refits = members.length <= MOST_REFITTED;
    const summed = refits ? new Float64Array(shapes.length) : all.slice();
    const inGroup = new Set(group);
    if (refits) members.forEach((_, index) => inGroup.has(index) || add(summed, index, fellowsRate, 1));
    else for (const index of group) add(summed, index, overallRate, -1);
    return likeliestShape(summed);
  };
}

function limits(expected: number, shape: number, confidence: number): Pick<Standing, "controlLow" | "controlHigh"> {
  return { controlLow: countQuantile((1 - confidence) / 2, { expected, shape }), controlHigh: countQuantile((1 + confidence) / 2, { expected, shape }) };
}

/** Mean and equal-tailed interval of the gamma posterior with shape + count and rate shape + expected. */
function pooled(count: number, expected: number, shape: number, confidence: number): Pick<Standing, "pooledRatio" | "pooledLow" | "pooledHigh"> {
  const end = (probability: number): number => chiSquareQuantile(probability, 2 * (shape + count)) / 2 / (shape + expected);
  return { pooledRatio: (shape + count) / (shape + expected), pooledLow: end((1 - confidence) / 2), pooledHigh: end((1 + confidence) / 2) };
}

function pValueOf(count: number, exposure: number, fellows: { readonly count: number; readonly exposure: number }, expected: number, shape: number): number {
  if (count === 0) return 1;
  // P(own ≥ count) given the sum is P(fellows' ≤ theirs), counted from the other side so that small values keep their digits.
  const conditional = binomialCdf(fellows.count, count + fellows.count, fellows.exposure / (exposure + fellows.exposure));
  return Math.min(1, Math.max(conditional, atLeastProbability(count, { expected, shape })));
}

function sumOf<Thing>(things: readonly Thing[], read: (thing: Thing) => number): number {
  return things.reduce((sum, thing) => sum + read(thing), 0);
}
