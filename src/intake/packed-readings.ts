import { SECOND_MS } from "../ground/units.js";

/*
 * Readings in memory: two to four bytes each instead of sixteen, none lost and none rounded. A reading is stored as its
 * distance in time from the one before and, where the value changed, the difference in thousandths of the sensor's unit.
 *
 *   head    distance in time × 8 + kind of value × 2 + (1 if the distance is in whole seconds, 0 if in milliseconds)
 *   value   nothing (same as before, or NaN), the difference in thousandths (zigzag), or a double, lowest byte first
 *
 * Whole numbers take seven bits a byte, lowest first; the high bit is set on all bytes but the last.
 */

/** Readings in time order, packed. Equal instants stand in the order they came. */
export interface PackedReadings {
  readonly count: number;
  readonly bytes: Uint8Array;
  /** Instants (epoch milliseconds) of the first and last reading; NaN without any. */
  readonly first: number;
  readonly last: number;
  /** The sensor's unit in the unit of the values: metres in a foot, say; 1 for words. */
  readonly unit: number;
  /**
   * Where unpacking can begin. For every {@link MARK_EVERY}th reading, {@link MARK_NUMBERS} numbers: the instant,
   * thousandths and value of the reading before it, and the byte it begins at.
   */
  readonly marks: Float64Array;
}

/** Packs readings one by one. Change it only through {@link addReading}. */
export interface Packer {
  readonly unit: number;
  bytes: Uint8Array<ArrayBuffer>;
  /** How many of `bytes` are used. */
  used: number;
  marks: Float64Array<ArrayBuffer>;
  count: number;
  first: number;
  last: number;
  lastThousandths: number;
  lastValue: number;
}

/** Readings from one mark to the next. */
export const MARK_EVERY = 64;
/** Numbers of one mark. */
export const MARK_NUMBERS = 4;
/** Values are kept as whole thousandths of the unit where that is exact. */
export const THOUSANDTHS = 1000;
/** The kinds of value, as the head of a reading holds them. */
export const [SAME, DIFFERENCE, DOUBLE, LOST] = [0, 1, 2, 3] as const;

/** Larger values than this are kept as doubles, so that differences stay exact. */
const MOST_THOUSANDTHS = 2 ** 40;
const DOUBLE_BYTES = 8;
/** A head and a double at most. */
const LONGEST_READING_BYTES = 20;
const FIRST_BYTES = 256;
const FIRST_MARKS = 4;

/** An empty packer for values in steps of `unit / 1000`; other values are kept as doubles. */
export function makePacker(unit: number): Packer {
  // Allocate nothing before the first reading: a file holds only a few of its source's signals.
  return { unit, bytes: new Uint8Array(0), used: 0, marks: new Float64Array(0), count: 0, first: Number.NaN, last: Number.NaN, lastThousandths: 0, lastValue: Number.NaN };
}

/** Adds a reading. `instant` is a whole number, not before the last one (`RangeError`); `value` is any number or NaN. */
export function addReading(packer: Packer, instant: number, value: number): void {
  if (packer.count === 0) packer.first = packer.last = instant;
  if (!(instant >= packer.last) || !Number.isInteger(instant)) throw new RangeError(`a reading at ${instant} cannot follow one at ${packer.last}`);
  if (packer.count % MARK_EVERY === 0) addMark(packer);
  if (packer.used + LONGEST_READING_BYTES > packer.bytes.length) packer.bytes = longer(packer.bytes);
  const ms = instant - packer.last;
  const time = ms % SECOND_MS === 0 ? (ms / SECOND_MS) * 8 + 1 : ms * 8;
  if (value === packer.lastValue) writeWhole(packer, time + SAME * 2);
  else if (Number.isNaN(value)) writeWhole(packer, time + LOST * 2);
  else writeValue(packer, time, value);
  packer.last = instant;
  packer.count++;
}

/** What was added so far. Shares memory with the packer: good until the next {@link addReading}. */
export function packedSoFar({ count, bytes, used, first, last, unit, marks }: Packer): PackedReadings {
  return { count, bytes: bytes.subarray(0, used), first, last, unit, marks: marks.subarray(0, marksFor(count)) };
}

/** The packed readings, in memory of their own size. */
export function finishPacking(packer: Packer): PackedReadings {
  const packed = packedSoFar(packer);
  return { ...packed, bytes: packed.bytes.slice(), marks: packed.marks.slice() };
}

function writeValue(packer: Packer, time: number, value: number): void {
  const thousandths = Math.round((value / packer.unit) * THOUSANDTHS);
  if (Math.abs(thousandths) < MOST_THOUSANDTHS && Object.is((thousandths / THOUSANDTHS) * packer.unit, value)) {
    writeWhole(packer, time + DIFFERENCE * 2);
    const difference = thousandths - packer.lastThousandths;
    writeWhole(packer, difference < 0 ? -2 * difference - 1 : 2 * difference);
    packer.lastThousandths = thousandths;
  } else {
    writeWhole(packer, time + DOUBLE * 2);
    new DataView(packer.bytes.buffer).setFloat64(packer.used, value, true);
    packer.used += DOUBLE_BYTES;
  }
  packer.lastValue = value;
}

function writeWhole(packer: Packer, number: number): void {
  let left = number;
  while (left >= 128) {
    packer.bytes[packer.used++] = (left % 128) + 128;
    left = Math.floor(left / 128);
  }
  packer.bytes[packer.used++] = left;
}

function addMark(packer: Packer): void {
  const at = marksFor(packer.count);
  if (at + MARK_NUMBERS > packer.marks.length) {
    const more = new Float64Array(Math.max(FIRST_MARKS * MARK_NUMBERS, packer.marks.length * 2));
    more.set(packer.marks);
    packer.marks = more;
  }
  packer.marks.set([packer.last, packer.lastThousandths, packer.lastValue, packer.used], at);
}

/** How many numbers the marks of `count` readings take. */
function marksFor(count: number): number {
  return Math.ceil(count / MARK_EVERY) * MARK_NUMBERS;
}

function longer(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  const more = new Uint8Array(Math.max(FIRST_BYTES, bytes.length * 2));
  more.set(bytes);
  return more;
}
