import type { SetAsideRow } from "./readings.js";

/** Hands on the rows of files that are read at the same time, in the order of the files. */
export interface InTurn {
  /** Rows of file `index`; `taken` is called when they have been handed on. */
  readonly add: (index: number, rows: readonly SetAsideRow[], taken: () => void) => void;
  /** File `index` has no more rows. */
  readonly close: (index: number) => void;
}

/** For files numbered from 0. Rows that come before their file's turn are kept, and `taken` is called only then. */
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
