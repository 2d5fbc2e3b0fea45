import { pairs } from "d3-array";
import { firstAtOrAfter } from "../ground/search.js";
import { otsuSplit } from "../truth/bands/otsu.js";

/** Where a distance meter's readings lie when a vehicle is there and when none is, in the unit of the export. */
export interface BandFound {
  readonly near: number;
  readonly far: number;
  readonly slack: number;
  /** A reading on which everything farther piles up; null when there is none. */
  readonly maximum: number | null;
  readonly occupied: { readonly middle: number; readonly count: number };
  /** `near` to `far`: the readings of an empty bay, clear of the band and its slack. What lies between is neither. */
  readonly empty: { readonly middle: number; readonly count: number; readonly near: number; readonly far: number };
  /** Readings in further heaps that are neither, e.g. another vehicle. */
  readonly elsewhere: number;
  readonly doubt: string | null;
}

/** What a meter reads that has seen one state only, in the unit of the export. */
export interface EmptyOnlyFound {
  readonly middle: number;
  readonly near: number;
  readonly far: number;
  readonly count: number;
  /** Readings nearer than that: something that passed, no vehicle that stood. */
  readonly nearer: number;
}

/** So much of the readings lies in the one heap (our own choice). */
const LEAST_ONE_HEAP = 0.95;

/**
 * The readings of a meter whose bay was always empty: one heap with nearly all of them, and no more farther than nearer of the
 * rest. A vehicle that stood there all the time would have the room behind it show now and then. Null where that is not so.
 */
export function findEmptyOnly(readings: readonly number[]): EmptyOnlyFound | null {
  const values = readings.filter((value) => value > 0 && Number.isFinite(value)).sort((a, b) => a - b);
  const different = new Set(values).size;
  if (values.length < 20 || different < 2) return null;
  const middle = quantile(values, 0.5);
  const reach = Math.max(SPREADS * spreadOf(values, middle), 0.02 * middle);
  const inside = values.filter((value) => Math.abs(value - middle) <= reach);
  const nearer = values.filter((value) => value < middle - reach).length;
  const farther = values.length - inside.length - nearer;
  if (inside.length < LEAST_ONE_HEAP * values.length || reach > middle / 4 || nearer === 0 || farther > nearer) return null;
  return { middle: rounded(middle), near: rounded(middle - reach), far: rounded(middle + reach), count: inside.length, nearer };
}

const BINS = 64;
/** A heap holds at least this share of the readings (our own choice). */
const LEAST_HEAP = 0.02;
/** Without an echo a meter says its maximum: at least this part of the farther readings is exactly that (our own choice). */
const LEAST_PILE = 0.25;
/** Between two heaps lies at most this part of the smaller one (our own choice). */
const DEEPEST_VALLEY = 0.25;
/** The band reaches this part of the way from the occupied to the empty heap, both sides (our own choice). */
const REACH = 1 / 8;
/** Or this many spreads of the occupied heap where that is more, but never half of the way (our own choice). */
const SPREADS = 6;
const LONGEST_REACH = 0.4;
/** Two heaps are at least this many steps of the meter apart, so that a step lies in the middle third between them. */
const FEWEST_STEPS = 4;
/** Fewer different readings do not show the meter's step (our own choice). */
const FEWEST_DIFFERENT = 8;
/** Slack as a part of the band's half width (our own choice). */
const SLACK_PART = 0.2;

/**
 * The band of a meter, from its readings: their histogram falls into heaps; the split of least variance within the two
 * parts (Otsu 1979) says which are near and which are far. A vehicle stands between the meter and what it else sees,
 * so the nearer heap is "occupied". Null when the readings show one heap only. Zero and negative readings are left out.
 */
export function findBand(readings: readonly number[]): BandFound | null {
  const values = readings.filter((value) => value > 0 && Number.isFinite(value)).sort((a, b) => a - b);
  const last = values.at(-1);
  if (values.length < 20 || last === undefined) return null;
  const [low, high] = [quantile(values, 0.001), quantile(values, 0.999)];
  if (!(high > low)) return null;
  const threshold = otsuThreshold(values, low, high);
  const near = values.filter((value) => value <= threshold);
  const far = values.filter((value) => value > threshold);
  if (near.length < LEAST_HEAP * values.length || far.length < LEAST_HEAP * values.length) return null;
  const [nearMode, farMode] = [mode(near, low, high), mode(far, low, high)];
  const heap = near.filter((value) => Math.abs(value - nearMode) < (farMode - nearMode) / 4);
  const farHeap = far.filter((value) => Math.abs(value - farMode) < (farMode - nearMode) / 4);
  const [middle, emptyMiddle] = [quantile(heap, 0.5), quantile(farHeap, 0.5)];
  const way = emptyMiddle - middle;
  const spread = spreadOf(heap, middle);
  // Two heaps that run into one another are no two states.
  const valley = values.filter((value) => value > middle + way / 3 && value < middle + (2 * way) / 3).length;
  if (!(way > 8 * spread) || valley > DEEPEST_VALLEY * Math.min(heap.length, farHeap.length)) return null;
  const piled = values.length - firstAtOrAfter(values, last);
  const maximum = piled >= LEAST_PILE * far.length ? last : null;
  const reach = Math.min(LONGEST_REACH * way, Math.max(REACH * way, SPREADS * spread));
  // Heaps a step or two of the meter apart are noise: no reading could lie between them to say so.
  if (way < FEWEST_STEPS * stepOf(values)) return null;
  // Two heaps that three digits cannot tell apart are one that noise has split.
  if (!(rounded(middle + reach) > rounded(Math.max(middle - reach, middle / 20)))) return null;
  const [bandFar, slack] = [rounded(middle + reach), rounded(SLACK_PART * reach)];
  const emptyReach = Math.min(LONGEST_REACH * way, Math.max(REACH * way, SPREADS * spreadOf(farHeap, emptyMiddle)));
  const emptyNear = Math.max(rounded(emptyMiddle - emptyReach), rounded(bandFar + slack));
  const inside = near.filter((value) => Math.abs(value - middle) <= reach).length;
  const elsewhere = near.length - inside;
  return {
    near: rounded(Math.max(middle - reach, middle / 20)),
    far: bandFar,
    slack,
    maximum,
    occupied: { middle: rounded(middle), count: inside },
    empty: {
      middle: rounded(emptyMiddle),
      count: far.length,
      near: emptyNear,
      far: maximum ?? Math.max(rounded(emptyMiddle + emptyReach), last),
    },
    elsewhere,
    doubt:
      elsewhere > LEAST_HEAP * values.length
        ? `${Math.round((100 * elsewhere) / values.length)} % of the readings are near, but outside this band`
        : null,
  };
}

/** The scaled median distance from `about`: of a normal its standard deviation. */
function spreadOf(values: readonly number[], about: number): number {
  return (
    1.4826 *
    quantile(
      values.map((value) => Math.abs(value - about)).sort((a, b) => a - b),
      0.5,
    )
  );
}

/** The usual distance between a reading and the next larger one; 0 where it is not known. */
function stepOf(sorted: readonly number[]): number {
  const different = [...new Set(sorted)];
  if (different.length < FEWEST_DIFFERENT) return 0;
  return quantile(
    pairs(different, (value, next) => next - value).sort((a, b) => a - b),
    0.5,
  );
}

/** How many readings fall into each of `bins` equal parts of their range (the outermost thousandths left out). */
export function histogram(
  readings: readonly number[],
  bins: number,
): { readonly counts: readonly number[]; readonly low: number; readonly high: number } {
  const values = readings.filter(Number.isFinite).sort((a, b) => a - b);
  const [low, high] = values.length === 0 ? [0, 0] : [quantile(values, 0.001), quantile(values, 0.999)];
  const counts = Array.from({ length: bins }, () => 0);
  for (const value of values) {
    if (value < low || value > high) continue;
    const bin = binOf(value, low, high, bins);
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return { counts, low, high };
}

/** Otsu's threshold over a histogram; over an empty valley, where every cut is as good, its middle. */
function otsuThreshold(values: readonly number[], low: number, high: number): number {
  const { last, gapEnd } = otsuSplit(histogram(values, BINS).counts);
  return last === null || gapEnd === null ? high : low + (((last + gapEnd) / 2 + 1) / BINS) * (high - low);
}

function mode(values: readonly number[], low: number, high: number): number {
  const bins = new Map<number, number[]>();
  for (const value of values) {
    const bin = binOf(value, low, high, BINS);
    const members = bins.get(bin);
    if (members === undefined) bins.set(bin, [value]);
    else members.push(value);
  }
  let fullest: readonly number[] = [];
  for (const members of bins.values()) if (members.length > fullest.length) fullest = members;
  return quantile(fullest, 0.5);
}

function binOf(value: number, low: number, high: number, bins: number): number {
  return Math.min(bins - 1, Math.max(0, Math.floor(((value - low) / (high - low || 1)) * bins)));
}

/** The value at a share of sorted values. */
export function quantile(sorted: readonly number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** Three digits that count. */
function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
