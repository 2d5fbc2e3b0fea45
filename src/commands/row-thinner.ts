import type { SampleRow } from "../draft/sample-table.js";
import { makeThinner } from "./thinner.js";

/** Rows are kept or left out so many at a time. */
const BLOCK_ROWS = 500;

/** Takes the rows of a file one by one and keeps as many as the bound allows. */
export interface RowThinner {
  /** `line` is the row's place in the file, as an audit counts it. */
  readonly take: (cells: readonly string[], line: number) => void;
  /** Call once, after the last row. `whole` says that every row was kept. */
  readonly finish: () => { readonly rows: readonly SampleRow[]; readonly whole: boolean };
}

/** Thins rows by blocks of them, see {@link makeThinner}; `bound` is in characters. Rows of blocks that follow one another are one stretch. */
export function makeRowThinner(bound: number, blockRows = BLOCK_ROWS): RowThinner {
  const thinner = makeThinner<Omit<SampleRow, "stretch">[]>(bound);
  let block: Omit<SampleRow, "stretch">[] = [];
  let size = 0;
  return {
    take(cells, line) {
      if (block.length >= blockRows) {
        thinner.take(block, size);
        [block, size] = [[], 0];
      }
      block.push({ cells, line });
      size += cells.reduce((sum, cell) => sum + cell.length + 1, 0);
    },
    finish() {
      const { runs, whole } = thinner.finish(block);
      return { rows: runs.flatMap((blocks, stretch) => blocks.flat().map((row) => ({ ...row, stretch }))), whole };
    },
  };
}
