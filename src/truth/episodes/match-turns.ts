/* eslint-disable @typescript-eslint/no-non-null-assertion --
   a table filled in hot loops: rows and columns run below the lengths of the two lists, cells below those of their row
   */
import type { Turn } from "../../timeline/timeline.js";

/**
 * The most likely instant of a turn: the middle of the time in which it may have happened.
 * A turn seen without a gap (`earliest === at`) keeps its instant.
 */
export function likelyInstant(turn: Turn): number {
  return (turn.earliest + turn.at) / 2;
}

/** Who was matched with whom: an index into the other list, or −1. */
export interface TurnMatches {
  readonly ofReference: Int32Array;
  readonly ofSignal: Int32Array;
}

const SKIP_ROW = 0;
const SKIP_COLUMN = 1;
const PAIR = 2;

/**
 * Matches instants of two rising lists one to one, in order (no two pairs cross), none further apart than `windowMs`.
 * Among all such matchings the one with the most pairs is taken, and among those the one with the least total distance:
 * a turn that was taken back and repeated is matched at the repeat when that is nearer.
 *
 * The usual table of partial solutions (rows are reference instants, columns signal instants, cell = the best that can
 * be made of this row and column and all later ones), kept only where a pair is allowed: columns before a row's window
 * are of no use to it or any later row, and past its window it is skipped. So it is linear in the number of allowed
 * pairs.
 */
export function matchInstants(reference: readonly number[], signal: readonly number[], windowMs: number): TurnMatches {
  const bands = bandsOf(reference, signal, windowMs);
  const choices = new Uint8Array(bands.cells);
  let below: Row = { low: signal.length, pairs: [0], distance: [0] };
  for (let row = reference.length - 1; row >= 0; row -= 1) {
    const low = bands.low[row]!;
    const high = bands.high[row]!;
    const own: Row = { low, pairs: Array<number>(high - low + 1).fill(0), distance: Array<number>(high - low + 1).fill(0) };
    // The last cell stands for every column past the window: there the row is skipped.
    for (let column = high; column >= low; column -= 1) {
      const cell = column - low;
      const skipped = Math.max(0, column - below.low);
      let choice = SKIP_ROW;
      let pairs = below.pairs[skipped]!;
      let distance = below.distance[skipped]!;
      if (column < high) {
        if (isBetter(own.pairs[cell + 1]!, own.distance[cell + 1]!, pairs, distance)) {
          choice = SKIP_COLUMN;
          pairs = own.pairs[cell + 1]!;
          distance = own.distance[cell + 1]!;
        }
        const next = Math.max(0, column + 1 - below.low);
        const apart = Math.abs(signal[column]! - reference[row]!);
        if (isBetter(below.pairs[next]! + 1, below.distance[next]! + apart, pairs, distance)) {
          choice = PAIR;
          pairs = below.pairs[next]! + 1;
          distance = below.distance[next]! + apart;
        }
      }
      own.pairs[cell] = pairs;
      own.distance[cell] = distance;
      choices[bands.offset[row]! + cell] = choice;
    }
    below = own;
  }
  return walk(choices, bands, reference.length, signal.length);
}

/** The best that can be made of a row and the later ones, by column from `low` on. */
interface Row {
  readonly low: number;
  readonly pairs: number[];
  readonly distance: number[];
}

/** Per row the columns `[low, high)` that it may pair with, and where its `high − low + 1` cells begin. */
interface Bands {
  readonly low: Int32Array;
  readonly high: Int32Array;
  readonly offset: Float64Array;
  readonly cells: number;
}

function bandsOf(reference: readonly number[], signal: readonly number[], windowMs: number): Bands {
  const low = new Int32Array(reference.length);
  const high = new Int32Array(reference.length);
  const offset = new Float64Array(reference.length);
  let [from, until, cells] = [0, 0, 0];
  reference.forEach((instant, row) => {
    // By distance, as pairs are judged: adding the window to an instant would round differently at its edge.
    while (from < signal.length && signal[from]! < instant && instant - signal[from]! > windowMs) from += 1;
    until = Math.max(until, from);
    while (until < signal.length && (signal[until]! <= instant || signal[until]! - instant <= windowMs)) until += 1;
    low[row] = from;
    high[row] = until;
    offset[row] = cells;
    cells += until - from + 1;
  });
  return { low, high, offset, cells };
}

function isBetter(pairs: number, distance: number, thanPairs: number, thanDistance: number): boolean {
  return pairs > thanPairs || (pairs === thanPairs && distance < thanDistance);
}

/** Follows the choices from the first row and column on. */
function walk(choices: Uint8Array, bands: Bands, rows: number, columns: number): TurnMatches {
  const matches: TurnMatches = { ofReference: new Int32Array(rows).fill(-1), ofSignal: new Int32Array(columns).fill(-1) };
  let row = 0;
  let column = 0;
  while (row < rows) {
    column = Math.max(column, bands.low[row]!);
    const choice = choices[bands.offset[row]! + column - bands.low[row]!]!;
    if (choice === PAIR) {
      matches.ofReference[row] = column;
      matches.ofSignal[column] = row;
    }
    if (choice !== SKIP_COLUMN) row += 1;
    if (choice !== SKIP_ROW) column += 1;
  }
  return matches;
}
