/* eslint-disable @typescript-eslint/no-non-null-assertion -- times, stretches and places of a signal run in parallel */

import { DAY_MS } from "../ground/units.js";
import { metresBetween, type Place } from "../intake/place.js";

/** A signal's places in time order; degrees, NaN where a reading has none. `stretches` as with readings. */
export interface Places {
  readonly times: Float64Array;
  readonly stretches: Int32Array;
  readonly latitudes: Float64Array;
  readonly longitudes: Float64Array;
}

/** Where signals rest most. */
export interface RestingPlace {
  /** Degrees, rounded to four decimals: about 11 m. */
  readonly latitude: number;
  readonly longitude: number;
  /** Milliseconds of all signals' rest there, and of all their time. */
  readonly restMs: number;
  readonly totalMs: number;
  /** Rest at the next place, at least 300 m away. */
  readonly nextMs: number;
}

/** What moves less than this from one reading to the next is at rest (our own choice). */
const STILL_METRES = 100;
/** Rest between two readings counts for at most this long (our own choice): a tracker may have been off for weeks. */
const LONGEST_REST_MS = DAY_MS;
/** Width of the squares in which time is gathered, in degrees of latitude: about 111 m. A place is three by three of them. */
const CELL_DEGREES = 0.001;
/** Rest within this far of the place is rest at it (our own choice). */
const PLACE_METRES = 200;
/** The next place is farther than this (our own choice). */
const APART_METRES = 300;

interface Rest extends Place {
  readonly ms: number;
}

/**
 * The place where signals rest longest: time between neighbouring readings less than 100 m apart is gathered in squares
 * of about 111 m; of the fullest three by three of them the middle (each coordinate's median by time). Null without rest.
 */
export function restingPlace(signals: readonly Places[]): RestingPlace | null {
  const gathered = signals.map(restsOf);
  const rests = gathered.flatMap((one) => one.rests);
  const fullest = fullestSquare(rests);
  if (fullest.length === 0) return null;
  const place = { latitude: rounded(medianByTime(fullest, "latitude")), longitude: rounded(medianByTime(fullest, "longitude")) };
  const away = (rest: Rest): number => metresBetween(place, rest);
  return {
    ...place,
    restMs: sum(rests.filter((rest) => away(rest) <= PLACE_METRES)),
    totalMs: gathered.reduce((total, one) => total + one.totalMs, 0),
    nextMs: sum(fullestSquare(rests.filter((rest) => away(rest) > APART_METRES))),
  };
}

/** A signal's rest within 200 m of a place: how long it is, and within how many metres 95 % of that time lies (null without rest). */
export function restAt(
  place: Place,
  signal: Places,
): { readonly ms: number; readonly totalMs: number; readonly scatterMetres: number | null } {
  const { rests, totalMs } = restsOf(signal);
  const near = rests
    .map((rest) => ({ ms: rest.ms, metres: metresBetween(place, rest) }))
    .filter(({ metres }) => metres <= PLACE_METRES)
    .sort((a, b) => a.metres - b.metres);
  const ms = sum(near);
  let passed = 0;
  return { ms, totalMs, scatterMetres: near.find((one) => (passed += one.ms) >= 0.95 * ms)?.metres ?? null };
}

function restsOf({ times, stretches, latitudes, longitudes }: Places): { readonly rests: Rest[]; readonly totalMs: number } {
  const rests: Rest[] = [];
  let totalMs = 0;
  let last = -1;
  for (let i = 0; i < times.length; i++) {
    if (Number.isNaN(latitudes[i]!) || Number.isNaN(longitudes[i]!)) continue;
    const here = { latitude: latitudes[i]!, longitude: longitudes[i]! };
    if (last >= 0 && stretches[last] === stretches[i]) {
      const ms = Math.min(LONGEST_REST_MS, times[i]! - times[last]!);
      totalMs += ms;
      if (ms > 0 && metresBetween({ latitude: latitudes[last]!, longitude: longitudes[last]! }, here) <= STILL_METRES) {
        rests.push({ ...here, ms });
      }
    }
    last = i;
  }
  return { rests, totalMs };
}

/** The rests in the three by three squares that hold most time. */
function fullestSquare(rests: readonly Rest[]): Rest[] {
  const squares = new Map<string, number>();
  for (const rest of rests) {
    const [row, column] = squareOf(rest);
    const key = `${row} ${column}`;
    squares.set(key, (squares.get(key) ?? 0) + rest.ms);
  }
  let best = { ms: 0, row: 0, column: 0 };
  for (const key of squares.keys()) {
    const [row, column] = key.split(" ").map(Number) as [number, number];
    let ms = 0;
    for (const r of [-1, 0, 1]) for (const c of [-1, 0, 1]) ms += squares.get(`${row + r} ${column + c}`) ?? 0;
    if (ms > best.ms) best = { ms, row, column };
  }
  if (best.ms === 0) return [];
  return rests.filter((rest) => {
    const [row, column] = squareOf(rest);
    return Math.abs(row - best.row) <= 1 && Math.abs(column - best.column) <= 1;
  });
}

/** Degrees of longitude shrink towards the poles; by whole degrees of latitude, so that squares stand in columns. */
function squareOf({ latitude, longitude }: Rest): [number, number] {
  const width = CELL_DEGREES / Math.max(0.01, Math.cos((Math.round(latitude) * Math.PI) / 180));
  return [Math.floor(latitude / CELL_DEGREES), Math.floor(longitude / width)];
}

/** The coordinate up to which half of the time is spent; NaN without rests. */
function medianByTime(rests: readonly Rest[], key: "latitude" | "longitude"): number {
  const sorted = [...rests].sort((a, b) => a[key] - b[key]);
  const half = sum(rests) / 2;
  let passed = 0;
  for (const rest of sorted) {
    passed += rest.ms;
    if (passed >= half) return rest[key];
  }
  return Number.NaN;
}

function sum(rests: readonly { readonly ms: number }[]): number {
  return rests.reduce((total, { ms }) => total + ms, 0);
}

function rounded(degrees: number): number {
  return Number(degrees.toFixed(4));
}
