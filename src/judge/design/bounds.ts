/**
 * Upper bounds of how often a year two independent parts are on at once while firing would be wrong. Both hold at every
 * monthly look, and both are worked out from sums of counts and exposures over all months.
 */
import { range, sum } from "d3-array";
import { clumped, UNSEEN_CLUMP, type Clumped } from "../../statistics/clumps.js";
import { largestProduct } from "../../statistics/joint-look.js";
import { rateUpperAtEveryLook } from "../../statistics/every-look.js";
import { rateUpperBound } from "../../statistics/rate.js";
import { togetherAtEveryLook } from "../../statistics/coincidences.js";
import { weightedUpperBound, type WeightedCount } from "../../statistics/weighted-counts.js";
import { DAYS_PER_YEAR, SECOND_MS } from "../../ground/units.js";
import type { DesignHistory, PartHistory, PartStretch } from "../../result/design.js";
import { occasionSizes } from "../evidence/occasions.js";
import { clockDistance, DAY_SECONDS } from "./clock.js";
import { keptDays } from "./day-types.js";
import { coincidencesOnOtherDays, overlapByClock } from "./slides.js";

const YEAR_SECONDS = DAYS_PER_YEAR * DAY_SECONDS;

/** Events of one part within this time of one another by the clock belong to the same habit or weakness. Our own choice. */
const ALIKE_SECONDS = 1_800;
/** Stretches with a shorter gap than this are one occasion. Our own choice. */
const OCCASION_SECONDS = 1_800;
/** What part of a stretch is taken to belong to its time of day; the rest may fall at any time. Our own choice. */
const BY_CLOCK = 0.9;
/** Clock times at which the smoothed and the raw peak are looked for. */
const SMOOTH_STEP_SECONDS = 1_800;
const RAW_STEP_SECONDS = 300;

/**
 * F: the parts' faults share no time of day. Divided by the share of time with somebody at home, since faults of phones
 * and of meters may come only then. Infinity where nobody was ever at home.
 */
export function evenBound({ years, homeShare, parts: [a, b] }: DesignHistory, confidence: number): number {
  if (homeShare === 0) return Infinity;
  const [clumpsOfA, clumpsOfB] = [asClumps(a), asClumps(b)];
  const pulses = ({ count }: Clumped, { longestSeconds }: PartHistory) => ({ count, longestYears: longestSeconds / YEAR_SECONDS });
  return (clumpsOfA.factor * clumpsOfB.factor * togetherAtEveryLook([pulses(clumpsOfA, a), pulses(clumpsOfB, b)], years, confidence)) / homeShare;
}

/** From this many occasions on, a part shows whether its stretches come one by one or in bad spells. Our own choice. */
const LEAST_OCCASIONS_TO_TELL = 3;

/**
 * The stretches of a part as fewer independent ones where they came in bad spells. The next spell may be the largest
 * seen; where too few were seen to tell, one of {@link UNSEEN_CLUMP}.
 */
function asClumps({ stretches }: PartHistory): Clumped {
  const sizes = occasionSizes(stretches.map(({ day, at }) => (day * DAY_SECONDS + at) * SECOND_MS).sort((x, y) => x - y));
  return clumped(sizes, Math.max(sizes.length < LEAST_OCCASIONS_TO_TELL ? UNSEEN_CLUMP : 1, ...sizes));
}

/**
 * G: the parts' faults may share hours of the day. A weighted count of the pairs of stretches, each weighted by how
 * well their clock times agree; bounded as a weighted sum of Poisson counts in the one part, and as a count of
 * occasions in the other. Checked by simulation (docs/study-evidence.md), not proved.
 */
export function timeOfDayBound(history: DesignHistory, confidence: number): number {
  const oneLook = singleLook(history, confidence);
  if (oneLook === null) return Infinity;
  const { bound, counts } = oneLook;
  const each = 1 - (1 - confidence) / 2;
  const limits = rateUpperBound(counts.first, 1, each) * rateUpperBound(counts.second, 1, each);
  return (bound * largestProduct(counts, confidence)) / limits;
}

/** G for a single look, and the counts that stretch it to every look. Null without days. */
export function singleLook({ days, years, parts: [a, b] }: DesignHistory, confidence: number): { readonly bound: number; readonly counts: { readonly first: number; readonly second: number } } | null {
  // A day that was seen in part counts in part.
  const dayCount = Math.min(keptDays(days), years * DAYS_PER_YEAR);
  if (dayCount <= 1) return null;
  const each = 1 - (1 - confidence) / 2;
  const noneSeen = rateUpperBound(0, 1, each);
  if (a.stretches.length === 0 && b.stretches.length === 0) {
    return { bound: (24 * noneSeen ** 2 * (a.longestSeconds + b.longestSeconds)) / YEAR_SECONDS / years ** 2, counts: { first: 0, second: 0 } };
  }
  // The smaller problem first: a part that never rose is bounded by the other's peak.
  const [rare, other] = a.stretches.length === 0 || b.stretches.length > 0 ? [a, b] : [b, a];
  const weighed = rare.stretches.length === 0 ? unmovedPart(rare, other, dayCount) : bothMoved(rare, other, dayCount);
  const stretched = rateUpperBound(weighed.occasions, 1, each) / weighed.occasions;
  return {
    bound: (weightedUpperBound(weighed, each) * stretched) / years,
    counts: { first: rare.stretches.length, second: weighed.occasions },
  };
}

/** A weighted count of pairs, and how many occasions of the second part it rests on. */
interface Weighed extends WeightedCount {
  readonly occasions: number;
}

function bothMoved(a: PartHistory, b: PartHistory, days: number): Weighed {
  const pairs = pairWeights(a.stretches, b.stretches, days);
  const slid = coincidencesOnOtherDays(a.stretches, b.stretches) / (days - 1);
  const scale = Math.max(1, slid / pairs.total);
  const [ofA, ofB] = [occasions(a.stretches), occasions(b.stretches)];
  const byA = ofA.map((places) => scale * sum(places, (i) => pairs.byFirst[i] ?? 0));
  const byB = ofB.map((places) => scale * sum(places, (j) => pairs.bySecond[j] ?? 0));
  const peak = Math.max(scale * smoothPeak(a, b, days).height, rawPeak(a, b, days).height);
  const mostInOne = Math.max(1, ...ofA.map((places) => places.length));
  return {
    total: sum(byA),
    squares: sum(byA, (weight) => weight * weight),
    largestNext: Math.max(peak * mostInOne, ...byA),
    occasions: effectiveCount(byB),
  };
}

/** The weights of all pairs of stretches, summed over all, for each of the one part and for each of the other. */
function pairWeights(a: readonly PartStretch[], b: readonly PartStretch[], days: number): { readonly total: number; readonly byFirst: Float64Array; readonly bySecond: Float64Array } {
  const [byFirst, bySecond] = [new Float64Array(a.length), new Float64Array(b.length)];
  let total = 0;
  a.forEach((one, i) => {
    b.forEach((other, j) => {
      const weight = (alike(one.at, other.at) * (one.seconds + other.seconds)) / days;
      total += weight;
      byFirst[i] = (byFirst[i] ?? 0) + weight;
      bySecond[j] = (bySecond[j] ?? 0) + weight;
    });
  });
  return { total, byFirst, bySecond };
}

/** `a` never rose: its first rise may come at the worst time of day. */
function unmovedPart(a: PartHistory, b: PartHistory, days: number): Weighed {
  const [smooth, raw] = [smoothPeak(a, b, days), rawPeak(a, b, days)];
  const worst = raw.height >= smooth.height ? raw : smooth;
  const byOccasion = occasions(b.stretches).map((places) => sum(places, (j) => worst.terms[j] ?? 0));
  return { total: 0, squares: 0, largestNext: worst.height, occasions: effectiveCount(byOccasion) };
}

/** The height of a peak over the clock, and what each stretch adds to it. */
interface Peak {
  readonly height: number;
  readonly terms: readonly number[];
}

function smoothPeak(a: PartHistory, b: PartHistory, days: number): Peak {
  return peakOf(SMOOTH_STEP_SECONDS, b.stretches, (time, one) => (alike(time, one.at) * (a.longestSeconds + one.seconds)) / days);
}

function rawPeak(a: PartHistory, b: PartHistory, days: number): Peak {
  const peak = peakOf(RAW_STEP_SECONDS, b.stretches, (time, one) => (overlapByClock({ at: time, seconds: a.longestSeconds }, one) ? 1 : 0));
  return { height: peak.height / days, terms: peak.terms };
}

/** The clock time at which the terms add up to most; the first of several. */
function peakOf(stepSeconds: number, stretches: readonly PartStretch[], term: (time: number, one: PartStretch) => number): Peak {
  let [worst, height] = [0, -Infinity];
  for (let time = 0; time < DAY_SECONDS; time += stepSeconds) {
    let here = 0;
    for (const one of stretches) here += term(time, one);
    if (here > height) [worst, height] = [time, here];
  }
  return { height, terms: stretches.map((one) => term(worst, one)) };
}

/** The density, a second, at which an event may repeat at another clock time. */
function alike(at: number, other: number): number {
  const near = clockDistance(at, other) < ALIKE_SECONDS ? BY_CLOCK / (2 * ALIKE_SECONDS) : 0;
  return near + (1 - BY_CLOCK) / DAY_SECONDS;
}

/** Stretches close to one another as one occasion: their places in the list. */
function occasions(stretches: readonly PartStretch[]): number[][] {
  const instant = ({ day, at }: PartStretch): number => day * DAY_SECONDS + at;
  const order = range(stretches.length).sort((i, j) => instant(stretches[i] as PartStretch) - instant(stretches[j] as PartStretch));
  const found: number[][] = [];
  let endedAt = -Infinity;
  for (const place of order) {
    const one = stretches[place] as PartStretch;
    if (instant(one) - endedAt < OCCASION_SECONDS) found.at(-1)?.push(place);
    else found.push([place]);
    endedAt = Math.max(endedAt, instant(one) + one.seconds);
  }
  return found;
}

/** How many equal weights would vary as much: (Σ w)² / Σ w². */
function effectiveCount(weights: readonly number[]): number {
  const squares = sum(weights, (weight) => weight * weight);
  return squares === 0 ? 0 : sum(weights) ** 2 / squares;
}

/** What a common cause may add: a share of the rarer part's false stretches that also reach the other part. */
export function commonCauseBound({ years, parts }: DesignHistory, commonShare: number, confidence: number): number {
  const rarest = Math.min(...parts.map(({ stretches }) => stretches.filter((one) => !one.explained).length));
  return commonShare * rateUpperAtEveryLook(rarest, years, confidence);
}
