import type { SetAsideReason } from "./readings.js";

/** As much of a set-aside row as is kept. */
export const LONGEST_RAW_CHARACTERS = 500;

/** Where the rows of one export go, in file order, the column names first. All formats are read into one of these. */
export interface RowSink {
  /**
   * The cells as text, quotes resolved; copy what you keep, as cells may share memory with their neighbours. `line` is
   * where the row begins, counted from 1. `ended` is false only for the last row of a text that no line break follows.
   */
  readonly row: (cells: readonly string[], line: number, ended: boolean) => void;
  /** A row that cannot be split into cells; `raw` is its beginning. */
  readonly badRow: (reason: SetAsideReason, detail: string, raw: string, line: number) => void;
  /** The file stops too soon. Comes before its last row: if that row has no end, it is not whole. */
  readonly cutOff: () => void;
}

/** Takes the bytes of one file in chunks of any size, whose memory may be used again after each call. */
export interface ChunkReader {
  readonly push: (chunk: Buffer) => void;
  /** Call once, after the last chunk. `cutOff` says that the bytes are known to stop too soon. */
  readonly end: (cutOff: boolean) => void;
}
