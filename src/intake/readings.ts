import type { PackedReadings } from "./packed-readings.js";
import type { LedgerRow } from "../result/ledger.js";

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
  "record not well-formed",
  "channel left out",
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
  /** The signal whose cell could not be read, and its instant, where the rest of the row told them. */
  readonly about?: { readonly signal: string; readonly at: number };
  /** A channel that the site file does not know. */
  readonly channel?: string;
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
  /** Once the rows of all files are read, before they are brought together. */
  onRead?(): void;
  /** After every chunk: `bytes` and `rows` so far over all files, of `totalBytes` on disk. */
  onProgress?(progress: { readonly file: string; readonly bytes: number; readonly totalBytes: number; readonly rows: number }): void;
}
