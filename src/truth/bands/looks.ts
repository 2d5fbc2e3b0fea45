/* eslint-disable @typescript-eslint/no-non-null-assertion --
   `times` and `values` are long parallel arrays, walked below their length */
import { sum } from "d3-array";
import { MINUTE_MS } from "../../ground/units.js";
import { medianOfSorted } from "../../statistics/median.js";

/**
 * What a meter read over each stay and each absence: one value each, in metres to a tenth of a millimetre, smallest
 * first. Without instants they reveal nobody's comings and goings.
 */
export interface Looks {
  readonly occupied: readonly number[];
  readonly empty: readonly number[];
}

/**
 * A shorter stretch is no look of its own (milliseconds): a door left open, a hatch, a wild reading. Our own choice.
 */
const LEAST_LOOK_MS = 10 * MINUTE_MS;
const TENTHS_A_METRE = 10_000;

/** What a reading stands for; null for neither. */
export type Side = "occupied" | "empty" | null;

/** Readings in a row on one side. */
interface Run {
  readonly side: "occupied" | "empty" | "no echo";
  readonly from: number;
  until: number;
  /** Where its readings begin and end among those that count. */
  readonly begin: number;
  end: number;
}

/**
 * Independent looks at where readings rest. Readings within a stay are anything but independent: the vehicle does not
 * move. So each stretch of readings on one side counts once, by its median. Stretches shorter than
 * {@link LEAST_LOOK_MS} are skipped, and what lies on both sides of them is one stretch if it is of one kind: a
 * flickering meter makes few looks, not many. A stretch lasts until the next begins, the last until the last reading.
 * We assume that a vehicle's place at one arrival does not depend on its place at the last (our own choice).
 *
 * `sideOf`: what a reading stands for; readings for neither are left out. `emptyIsNoEcho`: an empty bay gives no echo,
 * which ends a stay but is no reading that could be compared.
 */
export function looksOf(times: Float64Array, values: Float64Array, sideOf: (metres: number) => Side, emptyIsNoEcho: boolean): Looks {
  const runs: Run[] = [];
  const counted = new Float64Array(values.length);
  let count = 0;
  for (let i = 0; i < times.length; i += 1) {
    const [at, metres] = [times[i]!, values[i]!];
    const side = sideOf(metres) ?? (emptyIsNoEcho ? "no echo" : null);
    if (side === null) continue;
    let last = runs.at(-1);
    if (last?.side !== side) {
      if (last !== undefined) last.until = at;
      last = { side, from: at, until: at, begin: count, end: count };
      runs.push(last);
    }
    counted[count] = metres;
    count += 1;
    last.until = at;
    last.end = count;
  }
  const joined: { readonly side: Run["side"]; readonly parts: Run[] }[] = [];
  for (const run of runs.filter(({ from, until }) => until - from >= LEAST_LOOK_MS)) {
    const last = joined.at(-1);
    if (last?.side === run.side) last.parts.push(run);
    else joined.push({ side: run.side, parts: [run] });
  }
  const medians = (side: Run["side"]): number[] =>
    joined
      .filter((one) => one.side === side)
      .map(({ parts }) => Math.round(medianOfSorted(sortedValues(counted, parts)) * TENTHS_A_METRE) / TENTHS_A_METRE)
      .sort((a, b) => a - b);
  return { occupied: medians("occupied"), empty: medians("empty") };
}

function sortedValues(counted: Float64Array, runs: readonly Run[]): Float64Array {
  const all = new Float64Array(sum(runs, ({ begin, end }) => end - begin));
  let at = 0;
  for (const { begin, end } of runs) {
    all.set(counted.subarray(begin, end), at);
    at += end - begin;
  }
  return all.sort();
}
