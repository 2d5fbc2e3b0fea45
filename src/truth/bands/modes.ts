/* eslint-disable @typescript-eslint/no-non-null-assertion -- loops over sorted readings and bins stay below their lengths */
import { firstAtOrAfter } from "../../ground/search.js";
import { medianOfSorted } from "../../statistics/median.js";
import { type Component, fitMixture, type Mixture } from "./mixture.js";
import { otsuSplit } from "./otsu.js";

/** Where readings of one kind gather, in metres: middle and spread are the median and the scaled median deviation. */
export interface Mode {
  readonly metres: number;
  readonly deviationMetres: number;
  readonly readings: number;
}

/** The readings split in two, with both thresholds, or why they were not. Metres. */
interface TwoModes {
  readonly modes: readonly [Mode, Mode] | null;
  readonly otsuMetres: number | null;
  readonly mixture: Mixture | null;
  readonly mixtureMetres: number | null;
  readonly why: string | null;
}

/** Fewer readings than this make no mode. Our own choice: about where a spread begins to be known. */
export const FEWEST_READINGS = 30;
/** A mode holds at least this share of the readings; fewer are an exception. Our own choice. */
export const LEAST_SHARE = 0.01;
/**
 * Two normals are apart when |difference of means| × √2 / √(sum of variances) exceeds this.
 * Source: Ashman, Bird & Zepf (1994), written down from memory, text not seen.
 */
const LEAST_SEPARATION = 2;
/**
 * In the middle third between two modes readings are at most this dense, compared with the sparser of the two. Two
 * normals fit an even spread better than one does, and pass the test of separation, but an even spread has no valley.
 * Our own choice.
 */
const VALLEY_SHARE = 0.5;
/** No spread is taken to be smaller than this: meters resolve millimetres at best. Common practice, no source. */
const LEAST_DEVIATION_METRES = 0.001;
/** Makes the median deviation of a normal its standard deviation. */
const MAD_TO_DEVIATION = 1.4826;
const FINE_BINS = 2000;

/**
 * Finds two modes in sorted distance readings: Otsu's threshold splits them, and a mixture of two normals started from
 * it says whether there really are two. Middle and spread of both sides are robust: a hatch held under the meter moves
 * a mean and widens a variance, but leaves a median alone.
 */
export function twoModes(sorted: Float64Array): TwoModes {
  const none = (why: string): TwoModes => ({ modes: null, otsuMetres: null, mixture: null, mixtureMetres: null, why });
  const [least, most] = [sorted[0], sorted.at(-1)];
  if (least === undefined || most === undefined || sorted.length < 2 * FEWEST_READINGS)
    return none(`too few readings with an echo (${sorted.length})`);
  const fine = histogramOf(sorted, least, most, FINE_BINS);
  const { last, gapEnd } = otsuSplit(fine.counts);
  if (last === null || gapEnd === null) return none("all readings are the same");
  // Between two modes with nothing in between any split is as good: the middle is the safest.
  const otsuMetres = fine.from + ((last + gapEnd) / 2 + 1) * fine.width;

  const occupied = fine.counts.flatMap((count, i) => (count === 0 ? [] : [i]));
  const mixture = fitMixture(
    occupied.map((i) => binMiddle(fine, i)),
    otsuMetres,
    { leastDeviation: LEAST_DEVIATION_METRES, mostIterations: 2000, tolerance: 1e-9 },
    occupied.map((i) => fine.counts[i]!),
  );
  const found = { otsuMetres, mixture, mixtureMetres: mixture === null ? null : evenPoint(mixture.components) };

  const below = firstAtOrAfter(sorted, otsuMetres);
  const parts = [sorted.subarray(0, below), sorted.subarray(below)] as const;
  const fewest = Math.max(FEWEST_READINGS, LEAST_SHARE * sorted.length);
  const small = parts.some((part) => part.length < fewest);
  if (small) return { modes: null, ...found, why: "one mode only: fewer than 1 % of the readings lie on the other side of the threshold" };
  const modes = [modeOf(parts[0]), modeOf(parts[1])] as const;
  const apart = mixture !== null && separation(mixture.components) > LEAST_SEPARATION && hasValley(sorted, modes);
  return apart ? { modes, ...found, why: null } : { modes: null, ...found, why: "one mode only: the readings do not fall into two" };
}

function hasValley(sorted: Float64Array, [low, high]: readonly [Mode, Mode]): boolean {
  const density = (from: number, to: number): number => (firstAtOrAfter(sorted, to) - firstAtOrAfter(sorted, from)) / (to - from);
  const around = ({ metres, deviationMetres }: Mode): number => density(metres - deviationMetres, metres + deviationMetres);
  const third = (high.metres - low.metres) / 3;
  return density(low.metres + third, high.metres - third) <= VALLEY_SHARE * Math.min(around(low), around(high));
}

/** Median and spread of sorted values, of which there must be at least one. */
export function modeOf(sorted: Float64Array): Mode {
  const metres = medianOfSorted(sorted);
  return {
    metres,
    deviationMetres: Math.max(LEAST_DEVIATION_METRES, MAD_TO_DEVIATION * medianDistance(sorted, metres)),
    readings: sorted.length,
  };
}

/**
 * The median distance of sorted values from `metres`. Walks outwards from there: a second sort would be slower than all
 * the rest.
 */
function medianDistance(sorted: Float64Array, metres: number): number {
  let right = firstAtOrAfter(sorted, metres);
  let left = right - 1;
  let [last, before] = [0, 0];
  for (let taken = 0; taken <= sorted.length >>> 1; taken += 1) {
    const leftwards = left < 0 ? Infinity : metres - sorted[left]!;
    const rightwards = right >= sorted.length ? Infinity : sorted[right]! - metres;
    before = last;
    last = Math.min(leftwards, rightwards);
    if (leftwards <= rightwards) left -= 1;
    else right += 1;
  }
  return sorted.length % 2 === 1 ? last : (before + last) / 2;
}

/** Ashman's D of two components. */
function separation([low, high]: readonly [Component, Component]): number {
  return (Math.abs(high.mean - low.mean) * Math.SQRT2) / Math.hypot(low.deviation, high.deviation);
}

/**
 * The point between two means at which both components are equally likely, by halving; null if one outweighs the other
 * all the way.
 */
function evenPoint([low, high]: readonly [Component, Component]): number | null {
  const lead = (x: number): number => {
    const log = ({ share, mean, deviation }: Component): number =>
      Math.log(share) - Math.log(deviation) - ((x - mean) / deviation) ** 2 / 2;
    return log(low) - log(high);
  };
  let [from, to] = [low.mean, high.mean];
  if (lead(from) <= 0 || lead(to) >= 0) return null;
  for (let i = 0; i < 60; i += 1) {
    const half = (from + to) / 2;
    if (lead(half) > 0) from = half;
    else to = half;
  }
  return (from + to) / 2;
}

/**
 * Counts of values in equal bins: bin i holds `from + i × width` up to, not including, the next; the last includes its
 * end.
 */
export interface Histogram {
  readonly from: number;
  readonly width: number;
  readonly counts: readonly number[];
}

/** Counts values in `bins` equal bins between two ends; values beyond them fall into the outermost bins. */
export function histogramOf(values: ArrayLike<number>, from: number, to: number, bins: number): Histogram {
  const width = Math.max(to - from, 1e-9) / bins;
  const counts = Array<number>(bins).fill(0);
  for (let i = 0; i < values.length; i += 1) counts[Math.min(bins - 1, Math.max(0, Math.floor((values[i]! - from) / width)))]! += 1;
  return { from, width, counts };
}

/** The middle of bin `i`. */
function binMiddle({ from, width }: Histogram, i: number): number {
  return from + (i + 0.5) * width;
}
