import type { PackedReadings } from "./packed-readings.js";

/**
 * All accepted readings of one signal, in time order (equal instants in file order), without duplicates. They are packed
 * in memory: `unpackedReadings` (unpack.ts) gives them as two arrays, `times` and `values`. A time is in epoch milliseconds
 * UTC, with the clock correction applied. A value is in metres for a distance, in metres from home for a position, 1 (on)
 * or 0 (off) for words, and NaN where the source says that the sensor itself does not know (a `lost` word). Zero and
 * negative distances, and numbers that are not finite, are set aside with a reason and never get here.
 */
export interface Readings {
  readonly signal: string;
  /** They follow one another in time without overlap. Empty without readings. */
  readonly parts: readonly PackedReadings[];
}

/** Why a row was set aside. Listed once; the type is derived. */
export const setAsideReasons = [
  "wrong number of columns",
  "time stamp not readable",
  "local time skipped by a clock change",
  "channel not in the site file",
  "no value",
  "value not a number",
  "distance zero or negative",
  "word not in the site file",
  "position out of range",
  "field too long",
  "quote not closed",
  "text not decodable",
  "repeated header",
  "cut off",
  "markup not well-formed",
] as const;

/** One of {@link setAsideReasons}. */
export type SetAsideReason = (typeof setAsideReasons)[number];

/** A row that was not used, with the reason. `line` is 1-based in the (unpacked) file; `raw` is the row's text. */
export interface SetAsideRow {
  readonly file: string;
  readonly line: number;
  readonly reason: SetAsideReason;
  /** What exactly was wrong, e.g. the column and the cell. */
  readonly detail: string;
  readonly raw: string;
}

/** One file's account: `read === accepted + duplicate + setAside`, always. Counts are rows, header not counted. */
export interface LedgerRow {
  readonly source: string;
  /** Path relative to the site file's folder. */
  readonly file: string;
  readonly read: number;
  readonly accepted: number;
  readonly duplicate: number;
  readonly setAside: number;
  readonly reasons: readonly { readonly reason: SetAsideReason; readonly count: number }[];
  /** Cells of accepted and duplicate rows (wide layout) that hold no news, and those that could not be read. */
  readonly missingCells: number;
  readonly unreadableCells: number;
  /** Local times in a repeated hour (resolved by file order) and in a skipped hour that were shifted. */
  readonly repeatedHourRows: number;
  readonly shiftedRows: number;
  readonly outOfOrderRows: number;
  /** The file ends too soon: the rows up to there were read. */
  readonly cutOff: boolean;
  /** Earliest and latest accepted reading, epoch milliseconds; null without any. */
  readonly first: number | null;
  readonly last: number | null;
}

/** What intake hands on. Signals without a single reading are present with empty arrays. */
export interface IntakeResult {
  readonly readings: ReadonlyMap<string, Readings>;
  readonly ledger: readonly LedgerRow[];
}

/** What a person wrote down as certain: a subject's state on `[from, to)`. */
export interface DiaryEntry {
  readonly subject: string;
  readonly state: 0 | 1;
  readonly from: number;
  readonly to: number;
  readonly file: string;
  readonly line: number;
}

/** Who is told what happens while exports are read. */
export interface IntakeWatch {
  /** Every row set aside, as it is met; and every unreadable cell of a row that was otherwise used (the detail says so). */
  onSetAside(row: SetAsideRow): void;
  /** After every chunk: `bytes` and `rows` so far over all files, of `totalBytes` on disk. */
  onProgress?(progress: { readonly file: string; readonly bytes: number; readonly totalBytes: number; readonly rows: number }): void;
}
