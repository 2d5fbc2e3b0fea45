/* eslint-disable @typescript-eslint/no-non-null-assertion -- a row of bins for each of 24 hours, walked below their length */
import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../ground/units.js";

/** A time at home: from one stir to the next, or to where it could not be followed any more. */
export interface Silence {
  readonly from: number;
  readonly ms: number;
  /** Somebody stirred at its end; else it was only followed up to there (a door moved). */
  readonly ended: boolean;
  /** How likely it was at home: 0..1. */
  readonly weight: number;
}

/** How long it is usual to be silent at home. */
export interface UsualSilence {
  /**
   * Of the moments at home at this hour of day, the share from which nothing stirs for longer than `ms`: 1 for none, falling,
   * never 0.
   */
  readonly longerThan: (from: number, ms: number) => number;
}

const HOURS = 24;
/** Lengths are told apart in steps of half a doubling, from a minute on, up to 90 days. Our own choice. */
const FIRST_MS = MINUTE_MS;
const STEPS_PER_DOUBLING = 2;
const BINS = 1 + STEPS_PER_DOUBLING * 17;
/** A moment is looked at this often (milliseconds); all of one hour of one day weigh as one look. Our own choice. */
const LOOK_MS = 5 * MINUTE_MS;
/** Moments of neighbouring hours count too, by a bell curve of this width (hours). Our own choice. */
const KERNEL_HOURS = 1;
/** What an hour has too few looks for is taken from all hours, as if so many of it had been seen. Our own choice. */
const POOL_STRENGTH = 3;
/**
 * Where no silence of any hour reaches, twice as long is taken for half as likely (a Pareto tail of exponent 1), as if one had
 * been seen. Our own choice: heavy on purpose, so that a month never proves that a silence is impossible.
 */
const TAIL_STRENGTH = 1;
const TAIL_HAZARD = 1 - 0.5 ** (1 / STEPS_PER_DOUBLING);

/**
 * Learns it from silences known to be at home. Of a moment within one it is known how long nothing stirs from there on: the
 * forward recurrence time of renewal theory (Cox 1962, *Renewal Theory*, section 5.4, text not seen). It is longer than a
 * silence counted from its beginning, since most moments fall into long silences; and a door does not move just when the one
 * who stays sits down. The share is the product-limit estimate of Kaplan & Meier (1958, JASA 53: 457-481), with the priors above.
 */
export function usualSilence(silences: readonly Silence[], timeZone: string): UsualSilence {
  const hourOf = localHours(timeZone);
  const [events, reached] = [table(), table()];
  for (const { from, ms, ended, weight: atHome } of silences) {
    for (let at = Math.ceil(from / LOOK_MS) * LOOK_MS; at < from + ms; at += LOOK_MS) {
      const hour = hourOf(at);
      const last = binOf(from + ms - at);
      const weight = (atHome * LOOK_MS) / HOUR_MS;
      for (let bin = 0; bin <= last; bin += 1) reached[hour]![bin]! += weight;
      if (ended) events[hour]![last]! += weight;
      // Followed to somewhere inside the bin: it counts as half of one that was in danger there.
      else reached[hour]![last]! -= weight / 2;
    }
  }
  const pooled = Array.from({ length: BINS }, (_, bin) => {
    const [hits, trials] = [sumOf(events, bin), sumOf(reached, bin)];
    return (hits + TAIL_STRENGTH * TAIL_HAZARD) / (trials + TAIL_STRENGTH);
  });
  const survival = Array.from({ length: HOURS }, (_, hour) => survivalOf(hour, events, reached, pooled));
  return {
    longerThan: (from, ms) => {
      if (ms <= 0) return 1;
      const row = survival[hourOf(from)]!;
      const bin = binOf(ms);
      const [before, after] = [row[bin]!, row[bin + 1]!];
      const [low, high] = edgesOf(bin);
      // Within a bin by the logarithm of the length, as the bins are.
      const share = bin === 0 ? ms / high : Math.log(ms / low) / Math.log(high / low);
      return before * (after / before) ** Math.min(1, share);
    },
  };
}

/** `row[bin]`: the share that is longer than where the bin begins. */
function survivalOf(hour: number, events: readonly Float64Array[], reached: readonly Float64Array[], pooled: readonly number[]): Float64Array {
  const weights = Array.from({ length: HOURS }, (_, other) => {
    const apart = Math.min(Math.abs(other - hour), HOURS - Math.abs(other - hour));
    return Math.exp(-0.5 * (apart / KERNEL_HOURS) ** 2);
  });
  const row = new Float64Array(BINS + 1).fill(1);
  for (let bin = 0; bin < BINS; bin += 1) {
    let [hits, trials] = [0, 0];
    weights.forEach((weight, other) => {
      hits += weight * events[other]![bin]!;
      trials += weight * reached[other]![bin]!;
    });
    row[bin + 1] = row[bin]! * (1 - (hits + POOL_STRENGTH * pooled[bin]!) / (trials + POOL_STRENGTH));
  }
  return row;
}

function table(): Float64Array[] {
  return Array.from({ length: HOURS }, () => new Float64Array(BINS));
}

function sumOf(rows: readonly Float64Array[], bin: number): number {
  return rows.reduce((sum, row) => sum + row[bin]!, 0);
}

/** Bin 0 ends at {@link FIRST_MS}; the last takes all that is longer. */
function binOf(ms: number): number {
  return ms < FIRST_MS ? 0 : Math.min(BINS - 1, 1 + Math.floor(STEPS_PER_DOUBLING * Math.log2(ms / FIRST_MS)));
}

function edgesOf(bin: number): [number, number] {
  return bin === 0 ? [0, FIRST_MS] : [FIRST_MS * 2 ** ((bin - 1) / STEPS_PER_DOUBLING), FIRST_MS * 2 ** (bin / STEPS_PER_DOUBLING)];
}

/** The local hour of instants. The offset is looked up twice a day, and at each instant of a day on which it changes. */
function localHours(timeZone: string): (instant: number) => number {
  const offsetAt = (instant: number): number => {
    const local = DateTime.fromMillis(instant, { zone: zoneOf(timeZone) });
    return local.isValid ? local.offset * MINUTE_MS : 0;
  };
  const byDay = new Map<number, number | null>();
  return (instant) => {
    const day = Math.floor(instant / DAY_MS);
    let offset = byDay.get(day);
    if (offset === undefined) {
      const [first, last] = [offsetAt(day * DAY_MS), offsetAt((day + 1) * DAY_MS)];
      offset = first === last ? first : null;
      byDay.set(day, offset);
    }
    const local = instant + (offset ?? offsetAt(instant));
    return Math.floor((((local % DAY_MS) + DAY_MS) % DAY_MS) / HOUR_MS);
  };
}
