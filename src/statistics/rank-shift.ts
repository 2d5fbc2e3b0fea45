/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of values, and all arrays are as long */
import { generator, shuffle } from "./random-order.js";

/**
 * Where a series most likely shifted, and how likely a shift as large is when the order of the values means nothing.
 */
export interface RankShift {
  /** The first value after the shift is `values[at]`. */
  readonly at: number;
  readonly pValue: number;
}

/** Which shifts count: `up` for later values that are larger, or either way. */
type ShiftSide = "up" | "either";

/** Resampling stops once this many random orders are as extreme, or after {@link MOST_ORDERS}. */
const ENOUGH_EXTREME = 20;
const MOST_ORDERS = 9999;

/**
 * The largest cumulative sum of the values' ranks minus their mean (ties share a rank), over all places to cut: how far
 * the early values lie below the late ones. The p-value comes from random orders drawn one after another. It is exact
 * for any distribution, if every order of days is equally likely when nothing changes; it is too small when
 * neighbouring values are alike (weather). The seed is fixed, so the same values give the same result. Null with fewer
 * than two values or all equal.
 * Source: Pettitt (1979) for the statistic; Besag & Clifford (1991) for stopping; both from memory, texts not seen.
 */
export function rankShift(values: readonly number[], side: ShiftSide): RankShift | null {
  const ranks = midRanks(values);
  const mean = (values.length + 1) / 2;
  const centred = Float64Array.from(ranks, (rank) => rank - mean);
  const seen = furthest(centred, side);
  if (seen.reach <= 0) return null;
  const random = generator(values.length);
  const shuffled = centred.slice();
  let extreme = 0;
  for (let drawn = 1; drawn <= MOST_ORDERS; drawn += 1) {
    shuffle(shuffled, random);
    if (furthest(shuffled, side).reach >= seen.reach) extreme += 1;
    if (extreme === ENOUGH_EXTREME) return { at: seen.at, pValue: extreme / drawn };
  }
  return { at: seen.at, pValue: (extreme + 1) / (MOST_ORDERS + 1) };
}

function furthest(centred: Float64Array, side: ShiftSide): { readonly at: number; readonly reach: number } {
  let sum = 0;
  let [at, reach] = [0, 0];
  for (let i = 0; i + 1 < centred.length; i += 1) {
    sum += centred[i]!;
    const here = side === "up" ? -sum : Math.abs(sum);
    if (here > reach) [at, reach] = [i + 1, here];
  }
  return { at, reach };
}

function midRanks(values: readonly number[]): Float64Array {
  const order = values.map((_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Float64Array(values.length);
  for (let first = 0; first < order.length;) {
    let next = first + 1;
    while (next < order.length && values[order[next]!] === values[order[first]!]) next += 1;
    for (let i = first; i < next; i += 1) ranks[order[i]!] = (first + 1 + next) / 2;
    first = next;
  }
  return ranks;
}
