import type { SetAsideRow } from "./readings.js";

/** Hands on rows of files that are read at the same time as if they had been read one after another. */
export interface InTurn {
  /** Rows of file `index`; `taken` is called when they have been handed on. */
  readonly add: (index: number, rows: readonly SetAsideRow[], taken: () => void) => void;
  /** File `index` has no more rows. */
  readonly close: (index: number) => void;
}

/** Makes it for files numbered from 0. What comes before its turn is kept, and not said to be taken until then. */
export function makeInTurn(handOn: (row: SetAsideRow) => void): InTurn {
  let turn = 0;
  const closed = new Set<number>();
  const kept = new Map<number, { readonly rows: readonly SetAsideRow[]; readonly taken: () => void }[]>();

  return {
    add(index, rows, taken) {
      if (index === turn) give(rows, taken);
      else kept.set(index, [...(kept.get(index) ?? []), { rows, taken }]);
    },
    close(index) {
      closed.add(index);
      while (closed.delete(turn)) {
        turn++;
        for (const { rows, taken } of kept.get(turn) ?? []) give(rows, taken);
        kept.delete(turn);
      }
    },
  };

  function give(rows: readonly SetAsideRow[], taken: () => void): void {
    rows.forEach(handOn);
    taken();
  }
}
