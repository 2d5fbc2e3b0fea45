import type { Chain } from "./chain.js";
import type { Layout } from "./layout.js";
import type { Nearby } from "./nearby.js";

/** What was said in a segment: a vote a witness and the diary's word (0, 1, 2 for nothing). */
export interface Kind {
  readonly votes: readonly number[];
  readonly written: number;
}

/** A layout reduced to the few kinds of segments and boundaries that occur in it. */
export interface Observations {
  readonly chain: Chain;
  readonly kinds: readonly Kind[];
  /** `moves[m][c]`: whether class c moved nearby (0, 1, 2 cannot tell) at boundaries of kind m. */
  readonly moves: readonly (readonly number[])[];
  /**
   * By kind of boundary: only the diary begins or ends there, and no witness changed. It says nothing about how often
   * changes are true.
   */
  readonly diaryOnly: readonly boolean[];
  /** How many segments are of each kind. */
  readonly kindCounts: readonly number[];
}

/** See {@link Observations}. */
export function observe(layout: Layout, nearby: readonly Nearby[]): Observations {
  const segments = layout.boundaries.length + 1;
  const kinds = indexed(segments, (k) => [layout.written[k]!, ...layout.votes.map((one) => one[k]!)]);
  const moves = indexed(segments - 1, (b) => [
    layout.boundaries[b]!.members.length === 0 && layout.boundaries[b]!.to === null ? 1 : 0,
    ...nearby.map((one) => one.moved[b]!),
  ]);
  const kindCounts = new Array<number>(kinds.rows.length).fill(0);
  for (const kind of kinds.indexOf) kindCounts[kind]! += 1;
  return {
    chain: { kindOf: kinds.indexOf, moveOf: moves.indexOf },
    kinds: kinds.rows.map(([written, ...votes]) => ({ votes, written: written! })),
    moves: moves.rows.map((row) => row.slice(1)),
    diaryOnly: moves.rows.map(([diaryOnly]) => diaryOnly === 1),
    kindCounts,
  };
}

/** Distinct rows in order of appearance, and which of them each place has. */
function indexed(count: number, rowAt: (place: number) => number[]): { rows: number[][]; indexOf: Int32Array } {
  const found = new Map<string, number>();
  const rows: number[][] = [];
  const indexOf = new Int32Array(count);
  for (let place = 0; place < count; place += 1) {
    const row = rowAt(place);
    const key = row.join("");
    let index = found.get(key);
    if (index === undefined) {
      index = rows.push(row) - 1;
      found.set(key, index);
    }
    indexOf[place] = index;
  }
  return { rows, indexOf };
}
