import distance from "@turf/distance";
import { metresPerUnit } from "../site/length.js";
import type { ValueReading } from "../site/site.js";
import type { SetAsideReason } from "./readings.js";

/** What a cell says when it is no value: the cell reader gives one of these instead. All values are ≥ 0 or NaN. */
export const NO_NEWS = -1;
const NOT_A_NUMBER = -2;
const NOT_POSITIVE = -3;
const UNKNOWN_WORD = -4;
const OUT_OF_RANGE = -5;

/** Degrees. */
const HIGHEST_LATITUDE = 90;
const HIGHEST_LONGITUDE = 180;

const SPACE = 0x20;

/**
 * Reads a signal's cell (two for a position: latitude, longitude; `second` is "" otherwise). Gives metres, metres from
 * home, or 1 and 0 for words; NaN where the sensor itself does not know; a negative number where there is no value:
 * {@link NO_NEWS}, or one that {@link cellProblem} explains.
 */
export type CellReader = (first: string, second: string) => number;

/** Makes the reader of one signal's cells; `missing` and `lost` are the source's words for "no news" and "sensor lost". */
export function makeCellReader(reading: ValueReading, missing: readonly string[], lost: readonly string[]): CellReader {
  /** The words that are no value of any kind. An empty cell never is one: it is no news unless the site file says more. */
  const noValue = new Map<string, number>([["", NO_NEWS], ...lost.map((word) => [word, Number.NaN] as const), ...missing.map((word) => [word, NO_NEWS] as const)]);
  switch (reading.form) {
    case "words":
      return wordReader(reading.on, reading.off, noValue);
    case "distance": {
      const metres = metresPerUnit[reading.unit];
      return (cell) => {
        const said = saidBy(noValue, cell);
        if (said !== undefined) return said;
        const value = decimal(cell);
        return Number.isNaN(value) ? NOT_A_NUMBER : value > 0 ? value * metres : NOT_POSITIVE;
      };
    }
    case "position": {
      const home = [reading.homeLongitude, reading.homeLatitude];
      return (latitudeCell, longitudeCell) => {
        const saidFirst = saidBy(noValue, latitudeCell);
        const saidSecond = saidBy(noValue, longitudeCell);
        if (Number.isNaN(saidFirst) || Number.isNaN(saidSecond)) return Number.NaN;
        if (saidFirst !== undefined && saidSecond !== undefined) return NO_NEWS;
        const latitude = decimal(latitudeCell);
        const longitude = decimal(longitudeCell);
        if (Number.isNaN(latitude) || Number.isNaN(longitude)) return NOT_A_NUMBER;
        if (Math.abs(latitude) > HIGHEST_LATITUDE || Math.abs(longitude) > HIGHEST_LONGITUDE) return OUT_OF_RANGE;
        // Phones without a fix write 0, 0 (common practice, no source). Taken at its word it would say "away".
        if (latitude === 0 && longitude === 0) return OUT_OF_RANGE;
        return distance([longitude, latitude], home, { units: "meters" });
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

/** A plain decimal number, spaces around it passed over; NaN for anything else, also for hexadecimal and infinity. */
function decimal(cell: string): number {
  const value = Number(cell);
  // Number() also takes Infinity, 0x1F, 0b1, 0o7 and blanks.
  return !Number.isFinite(value) || /[xob]/i.test(cell) || (value === 0 && cell.trim() === "") ? Number.NaN : value;
}
