import { medianOfSorted } from "../../statistics/median.js";

/**
 * What a meter read over each stay and each absence: one value a stretch, in metres to a tenth of a millimetre, smallest
 * first. Without their instants they tell nobody's comings and goings.
 */
export interface Looks {
  readonly occupied: readonly number[];
  readonly empty: readonly number[];
}

/** A stretch shorter than this is no look of its own: a door left open, a hatch, a wild reading. Our own choice. */
export const LEAST_LOOK_MS = 10 * 60_000;
const TENTHS_A_METRE = 10_000;

/** What a reading speaks for; null: for neither. */
export type Side = "occupied" | "empty" | null;

interface Stretch {
  readonly side: "occupied" | "empty" | "no echo";
  readonly from: number;
  until: number;
  /** Where its readings begin and end among those that count. */
  readonly begin: number;
  end: number;
}

/**
 * Independent looks at where readings rest. Readings within a stay are anything but independent: the vehicle does not move.
 * So each stretch of readings on one side counts once, by its median. Stretches shorter than {@link LEAST_LOOK_MS} are passed
 * over, and what lies on both sides of them, if it is of one kind, is one stretch: a flickering meter makes few looks,
 * not many. A stretch lasts until the next begins, the last until the last reading. That a vehicle's place is chosen anew at
 * every arrival, and so independent of the last, is taken for granted (our own choice).
 *
 * `sideOf`: what a reading speaks for; readings for neither are left out. `emptyIsNoEcho`: an empty bay gives no echo, which
 * then ends a stay but is no reading that could be compared.
 */
export function looksOf(times: Float64Array, values: Float64Array, sideOf: (metres: number) => Side, emptyIsNoEcho: boolean): Looks {
  const stretches: Stretch[] = [];
  const counted = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < times.length; i += 1) {
    const [at, metres] = [times[i]!, values[i]!];
    const side = sideOf(metres) ?? (emptyIsNoEcho ? "no echo" : null);
    if (side === null) continue;
    let last = stretches.at(-1);
    if (last?.side !== side) {
      if (last !== undefined) last.until = at;
      last = { side, from: at, until: at, begin: count, end: count };
      stretches.push(last);
    }
    counted[count] = metres;
    count += 1;
    last.until = at;
    last.end = count;
  }
  const joined: Stretch[][] = [];
  for (const stretch of stretches.filter(({ from, until }) => until - from >= LEAST_LOOK_MS)) {
    const last = joined.at(-1);
    if (last?.[0]!.side === stretch.side) last.push(stretch);
    else joined.push([stretch]);
  }
  const medians = (side: Stretch["side"]): number[] =>
    joined
      .filter(([stretch]) => stretch!.side === side)
      .map((parts) => Math.round(medianOfSorted(sortedParts(counted, parts)) * TENTHS_A_METRE) / TENTHS_A_METRE)
      .sort((a, b) => a - b);
  return { occupied: medians("occupied"), empty: medians("empty") };
}

function sortedParts(counted: Float64Array, parts: readonly Stretch[]): Float64Array {
  const all = new Float64Array(parts.reduce((sum, { begin, end }) => sum + end - begin, 0));
  let at = 0;
  for (const { begin, end } of parts) {
    all.set(counted.subarray(begin, end), at);
    at += end - begin;
  }
  return all.sort();
}
