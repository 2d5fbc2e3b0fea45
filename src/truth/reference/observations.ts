import { transpose } from "d3-array";
import type { Chain } from "./chain.js";
import { isDiaryEdge, type Layout } from "./layout.js";
import type { Nearby } from "./nearby.js";
import type { StirBoundary } from "../stirs/stir-rates.js";

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
  /** By kind of boundary: what may lie there besides a witness's change, if anything. */
  readonly sorts: readonly (StirBoundary | undefined)[];
  /** How many segments are of each kind. */
  readonly kindCounts: readonly number[];
}

/** See {@link Observations}. */
export function observe(layout: Layout, nearby: readonly Nearby[]): Observations {
  // Empty lists if there is no witness, or no class of neighbours.
  const [votes, moved] = [transpose<number>(layout.votes), transpose<number>(nearby.map((one) => one.moved))];
  const kinds = indexed(
    Array.from(layout.written, (written, k): Kind => ({ votes: votes[k] ?? [], written })),
    (kind) => `${kind.written}${kind.votes.join("")}`,
  );
  const moves = indexed(
    layout.boundaries.map((boundary, b) => ({ moved: moved[b] ?? [], diaryOnly: isDiaryEdge(boundary), sort: boundary.sort })),
    (move) => `${move.diaryOnly}${move.moved.join("")}${move.sort ?? ""}`,
  );
  return {
    chain: { kindOf: kinds.indexOf, moveOf: moves.indexOf },
    kinds: kinds.distinct.map(({ row }) => row),
    moves: moves.distinct.map(({ row }) => row.moved),
    diaryOnly: moves.distinct.map(({ row }) => row.diaryOnly),
    sorts: moves.distinct.map(({ row }) => row.sort),
    kindCounts: kinds.distinct.map(({ count }) => count),
  };
}

/** Distinct rows in order of appearance with how often each occurs, and which of them each place has. */
function indexed<Row>(
  rows: readonly Row[],
  keyOf: (row: Row) => string,
): { distinct: { readonly row: Row; readonly count: number }[]; indexOf: Int32Array } {
  const found = new Map<string, { readonly row: Row; readonly index: number; count: number }>();
  const indexOf = new Int32Array(rows.length);
  rows.forEach((row, place) => {
    const key = keyOf(row);
    const same = found.get(key) ?? { row, index: found.size, count: 0 };
    same.count += 1;
    found.set(key, same);
    indexOf[place] = same.index;
  });
  return { distinct: [...found.values()], indexOf };
}
