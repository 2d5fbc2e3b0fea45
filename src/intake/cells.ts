import { metresPerUnit } from "../site/length.js";
import type { Source, ValueReading } from "../site/site.js";
import { isPlace, metresBetween } from "./place.js";
import type { SetAsideReason } from "./readings.js";

/** What a cell says when it is no value: the cell reader gives one of these instead. All values are ≥ 0 or NaN. */
export const NO_NEWS = -1;
const NOT_A_NUMBER = -2;
const NOT_POSITIVE = -3;
const UNKNOWN_WORD = -4;
const OUT_OF_RANGE = -5;

const SPACE = 0x20;

/**
 * Reads a signal's cell (two for a position: latitude, longitude; `second` is "" otherwise). Gives metres, metres from
 * home, or 1 and 0 for words; NaN where the sensor itself does not know; a negative number where there is no value:
 * {@link NO_NEWS}, or one that {@link cellProblem} explains.
 */
export type CellReader = (first: string, second: string) => number;

/** What a source says about its cells: its words for "no news" and for "sensor lost", and the sign before decimals. */
type CellWriting = Pick<Source, "missing" | "lost" | "decimal">;

/** Makes the reader of one signal's cells. */
export function makeCellReader(reading: ValueReading, { missing, lost, decimal: sign }: CellWriting): CellReader {
  /** Words that are no value. Neither is an empty cell: it is no news, unless the site file says otherwise. */
  const noValue = new Map<string, number>([["", NO_NEWS], ...lost.map((word) => [word, Number.NaN] as const), ...missing.map((word) => [word, NO_NEWS] as const)]);
  switch (reading.form) {
    case "words":
      return wordReader(reading.on, reading.off, noValue);
    case "distance": {
      const metres = metresPerUnit[reading.unit];
      const point = sign.charCodeAt(0);
      // A site file may call a number such as 999 "missing"; only where none does can a number be read first.
      const numbersFirst = [...noValue.keys()].every((word) => Number.isNaN(decimal(word, sign)));
      return (cell) => {
        const plain = numbersFirst ? plainDecimal(cell, point) : Number.NaN;
        if (plain > 0) return plain * metres;
        const said = saidBy(noValue, cell);
        if (said !== undefined) return said;
        const value = decimal(cell, sign);
        return Number.isNaN(value) ? NOT_A_NUMBER : value > 0 ? value * metres : NOT_POSITIVE;
      };
    }
    case "position": {
      const home = { latitude: reading.homeLatitude, longitude: reading.homeLongitude };
      return (latitudeCell, longitudeCell) => {
        const saidFirst = saidBy(noValue, latitudeCell);
        const saidSecond = saidBy(noValue, longitudeCell);
        if (Number.isNaN(saidFirst) || Number.isNaN(saidSecond)) return Number.NaN;
        if (saidFirst !== undefined && saidSecond !== undefined) return NO_NEWS;
        const latitude = decimal(latitudeCell, sign);
        const longitude = decimal(longitudeCell, sign);
        if (Number.isNaN(latitude) || Number.isNaN(longitude)) return NOT_A_NUMBER;
        // 0, 0 is no place: read as one, it would mean "away".
        return isPlace(latitude, longitude) ? metresBetween({ latitude, longitude }, home) : OUT_OF_RANGE;
      };
    }
  }
}

/** Whether what a cell reader gave is a value: a number or NaN ("the sensor does not know"). */
export function isValue(given: number): boolean {
  return !(given < 0);
}

/** Why a cell gave no value. `cell` is quoted in the detail, except for positions, which must not outlive intake. */
export function cellProblem(given: number, cell: string, column: string): { readonly reason: SetAsideReason; readonly detail: string } {
  const shown = `column "${column}": "${cell.slice(0, 60)}"`;
  switch (given) {
    case NOT_A_NUMBER:
      return { reason: "value not a number", detail: `${shown} is not a number` };
    case NOT_POSITIVE:
      return { reason: "distance zero or negative", detail: `${shown} is no distance` };
    case UNKNOWN_WORD:
      return { reason: "word not in the site file", detail: `${shown} is none of this signal's words` };
    case OUT_OF_RANGE:
      return { reason: "position out of range", detail: "latitude must lie within ±90, longitude within ±180, and not both be 0" };
    default:
      return { reason: "no value", detail: `column "${column}" says nothing` };
  }
}

function wordReader(on: readonly string[], off: readonly string[], noValue: ReadonlyMap<string, number>): CellReader {
  const values = new Map<string, number>([...off.map((word) => [word, 0] as const), ...on.map((word) => [word, 1] as const), ...noValue]);
  return (cell) => saidBy(values, cell) ?? UNKNOWN_WORD;
}

/** What a word means: looked up as it stands, then, if there are any, without the spaces around it. */
function saidBy(meanings: ReadonlyMap<string, number>, cell: string): number | undefined {
  const said = meanings.get(cell);
  if (said !== undefined || (cell.charCodeAt(0) > SPACE && cell.charCodeAt(cell.length - 1) > SPACE)) return said;
  return meanings.get(cell.trim());
}

/** A decimal number, with or without spaces around it; NaN for anything else, also for hexadecimal and infinity. */
function decimal(cell: string, sign: Source["decimal"]): number {
  if (sign === "," && cell.includes(".")) return Number.NaN;
  const written = sign === "," ? cell.replace(",", ".") : cell;
  const value = Number(written);
  // Number() also takes Infinity, 0x1F, 0b1, 0o7 and blanks.
  return !Number.isFinite(value) || /[xob]/i.test(written) || (value === 0 && written.trim() === "") ? Number.NaN : value;
}

const MOST_DIGITS = 15;
const powersOfTen = Array.from({ length: MOST_DIGITS + 1 }, (_, i) => 10 ** i);

/**
 * Digits with at most one decimal sign among them, such as nearly every cell holds; NaN for anything else. Up to fifteen
 * digits are a whole number and a power of ten that doubles hold exactly, so that one division gives the very double
 * that Number() gives (Clinger 1990, the fast path).
 */
function plainDecimal(cell: string, point: number): number {
  const { length } = cell;
  if (length === 0 || length > MOST_DIGITS) return Number.NaN;
  let digits = 0;
  let pointAt = -1;
  for (let i = 0; i < length; i++) {
    const code = cell.charCodeAt(i);
    if (code >= 0x30 && code <= 0x39) digits = digits * 10 + (code - 0x30);
    else if (code === point && pointAt < 0 && i > 0 && i < length - 1) pointAt = i;
    else return Number.NaN;
  }
  // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- a short number has fewer digits than there are powers
  return pointAt < 0 ? digits : digits / powersOfTen[length - 1 - pointAt]!;
}
