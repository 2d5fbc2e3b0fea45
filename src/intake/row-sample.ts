import type { RowSink } from "./row-sink.js";

/** Rows are kept or left out in blocks of this size. */
const BLOCK_ROWS = 500;

/** A row of a sample. */
export interface SampleRow {
  readonly cells: readonly string[];
  /** As an audit counts it. */
  readonly line: number;
  /** Rows of one stretch follow one another in the file without a gap. */
  readonly stretch: number;
}

/** What was kept of a file's rows. */
export interface SampledRows {
  /** Column names; none of an empty file. */
  readonly header: readonly string[];
  readonly rows: readonly SampleRow[];
  /** Every row was kept. */
  readonly whole: boolean;
  /** Rows that do not have the header's columns or repeat it, by their number of cells. */
  readonly misfits: ReadonlyMap<number, number>;
  /** Rows that could not be split into cells. */
  readonly badRows: number;
  readonly cutOff: boolean;
}

interface Block {
  /** Its number in the file. */
  readonly at: number;
  readonly rows: Omit<SampleRow, "stretch">[];
  size: number;
}

/**
 * A bounded sample of a file's rows: the first and the last two blocks, and of those between every `stride`-th. How many
 * rows there are is not known before the last, so the stride doubles whenever more than `bound` characters are kept.
 * Two blocks at the end, as the last alone may hold one row.
 */
export interface RowSample {
  readonly bound: number;
  readonly blockRows: number;
  header: readonly string[] | null;
  kept: Block[];
  stride: number;
  /** The block being filled, and the one before it. */
  open: Block;
  before: Block | null;
  readonly misfits: Map<number, number>;
  badRows: number;
  cutOff: boolean;
}

/** An empty sample of up to `bound` characters (more only if three blocks are longer). */
export function makeRowSample(bound: number, blockRows = BLOCK_ROWS): RowSample {
  return { bound, blockRows, header: null, kept: [], stride: 1, open: { at: 0, rows: [], size: 0 }, before: null, misfits: new Map(), badRows: 0, cutOff: false };
}

/** Where the rows go that are to be sampled, the header first. */
export function sampleSink(sample: RowSample): RowSink {
  return {
    row: (cells, line, ended) => {
      takeRow(sample, cells, line, ended);
    },
    badRow: () => sample.badRows++,
    cutOff: () => (sample.cutOff = true),
  };
}

/** What was kept. Call once, after the last row. */
export function finishSample(sample: RowSample): SampledRows {
  const { header, kept, open, before, stride, misfits, badRows, cutOff } = sample;
  const blocks = [...kept, ...(before === null || kept.includes(before) ? [] : [before]), open];
  let stretch = 0;
  let last: number | null = null;
  const rows = blocks.flatMap((block) => {
    if (last !== null && block.at !== last + 1) stretch++;
    last = block.at;
    return block.rows.map((row) => ({ ...row, stretch }));
  });
  return { header: header ?? [], rows, whole: stride === 1, misfits, badRows, cutOff };
}

function takeRow(sample: RowSample, cells: readonly string[], line: number, ended: boolean): void {
  const { header, misfits } = sample;
  if (header === null) {
    sample.header = cells.map((name) => name.trim());
    return;
  }
  // As in an audit, the row that the cut goes through is not used.
  if (!ended && sample.cutOff) return;
  if (cells.length !== header.length || cells.every((cell, at) => cell.trim() === header[at])) {
    misfits.set(cells.length, (misfits.get(cells.length) ?? 0) + 1);
    return;
  }
  if (sample.open.rows.length >= sample.blockRows) closeBlock(sample);
  sample.open.rows.push({ cells, line });
  sample.open.size += cells.reduce((sum, cell) => sum + cell.length + 1, 0);
}

function closeBlock(sample: RowSample): void {
  const { open, bound } = sample;
  if (open.at % sample.stride === 0) sample.kept.push(copied(open));
  while (sample.kept.length > 2 && sample.kept.reduce((sum, { size }) => sum + size, 0) > bound) {
    sample.stride *= 2;
    sample.kept = sample.kept.filter(({ at }) => at % sample.stride === 0);
  }
  sample.before = sample.kept.at(-1)?.at === open.at ? (sample.kept.at(-1) ?? null) : open;
  sample.open = { at: open.at + 1, rows: [], size: 0 };
}

/** Copy the cells of a kept block: each may be a slice that keeps a whole chunk of the file in memory. */
function copied({ at, rows, size }: Block): Block {
  return { at, rows: rows.map(({ cells, line }) => ({ cells: cells.map((cell) => Buffer.from(cell).toString()), line })), size };
}
