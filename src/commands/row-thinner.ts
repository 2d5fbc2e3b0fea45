import type { SampleRow } from "../draft/sample-table.js";

/** Rows are kept or left out so many at a time. */
const BLOCK_ROWS = 500;

/** Takes the rows of a file one by one and keeps as many as the bound allows. */
export interface RowThinner {
  /** `line` is the row's place in the file, as an audit counts it. */
  readonly take: (cells: readonly string[], line: number) => void;
  /** Call once, after the last row. `whole` says that every row was kept. */
  readonly finish: () => { readonly rows: readonly SampleRow[]; readonly whole: boolean };
}

interface Block {
  readonly at: number;
  readonly rows: { readonly cells: readonly string[]; readonly line: number }[];
  size: number;
}

/**
 * Keeps the first and the last two blocks of rows, and of those between every `stride`-th, where the stride doubles
 * whenever more characters are kept than `bound`: how many rows there are is not known before the last.
 */
export function makeRowThinner(bound: number, blockRows = BLOCK_ROWS): RowThinner {
  let kept: Block[] = [];
  let [keptSize, stride] = [0, 1];
  let current: Block = { at: 0, rows: [], size: 0 };
  let before: Block | null = null;

  function close(): void {
    if (current.at % stride === 0) {
      kept.push(current);
      keptSize += current.size;
    }
    while (keptSize > bound && kept.length > 2) {
      stride *= 2;
      kept = kept.filter(({ at }) => at % stride === 0);
      keptSize = kept.reduce((sum, { size }) => sum + size, 0);
    }
    before = current;
    current = { at: current.at + 1, rows: [], size: 0 };
  }

  return {
    take(cells, line) {
      if (current.rows.length >= blockRows) close();
      current.rows.push({ cells, line });
      current.size += cells.reduce((sum, cell) => sum + cell.length + 1, 0);
    },
    finish() {
      const last = [before, current].flatMap((block) => (block === null || kept.includes(block) ? [] : [block]));
      const blocks = [...kept, ...last].sort((a, b) => a.at - b.at);
      let stretch = 0;
      const rows = blocks.flatMap((block, i) => {
        // Neighbouring blocks are one stretch: nothing lies between them.
        if (i > 0 && blocks[i - 1]!.at !== block.at - 1) stretch++;
        return block.rows.map((row) => ({ ...row, stretch }));
      });
      return { rows, whole: stride === 1 };
    },
  };
}
