import { SECOND_MS } from "../ground/units.js";

/*
 * Readings in memory: about two to four bytes each instead of sixteen, and none of them lost or rounded. A reading is its
 * distance in time from the one before and, where the value changed, its distance in thousandths of the sensor's own unit.
 *
 *   head    distance in time × 8 + kind of value × 2 + (1 if the distance is in whole seconds, 0 if in milliseconds)
 *   value   nothing (as before, or NaN), the difference in thousandths (zigzag), or the eight bytes of a double, lowest first
 *
 * Whole numbers are written seven bits a byte, lowest first, the high bit set on all but the last.
 */

/** Readings in time order, packed. Equal instants stand in the order they came. */
export interface PackedReadings {
  readonly count: number;
  readonly bytes: Uint8Array;
  /** Instants (epoch milliseconds) of the first and last reading; NaN without any. */
  readonly first: number;
  readonly last: number;
  /** What a thousand thousandths are in the unit of the values: metres in a foot, say; 1 for words. */
  readonly unit: number;
  /** Places to begin unpacking at: before reading `i * MARK_EVERY`, the instant, thousandths, and value before it, and the byte it stands at. */
  readonly marks: Float64Array;
}

/** Takes readings in time order, one by one. */
export interface Packer {
  /** `instant` must be a whole number, not before the last. Any `value` will do; NaN too. */
  readonly add: (instant: number, value: number) => void;
  readonly finish: () => PackedReadings;
  /** What was added so far, without closing; shares memory with the packer until the next `add`. */
  readonly soFar: () => PackedReadings;
}

const MARK_EVERY = 64;
const MARK_NUMBERS = 4;
const THOUSANDTHS = 1000;
/** Larger values than this are kept as doubles, so that differences stay exact. */
const MOST_THOUSANDTHS = 2 ** 40;
/** A head and a double at the most. */
const LONGEST_READING_BYTES = 20;

const FIRST_BYTES = 256;

const SAME = 0;
const DIFFERENCE = 1;
const DOUBLE = 2;
const LOST = 3;

/** Makes a packer for values in steps of `unit / 1000`; others are kept as doubles. */
export function makePacker(unit: number): Packer {
  // A file holds few of a source's signals: nothing is set aside before the first reading.
  let bytes = new Uint8Array(0);
  const double = new DataView(new ArrayBuffer(8));
  const doubleBytes = new Uint8Array(double.buffer);
  let marks = new Float64Array(0);
  let count = 0;
  let at = 0;
  let first = Number.NaN;
  let last = 0;
  let lastThousandths = 0;
  let lastValue = Number.NaN;

  return { add, soFar, finish: () => ({ ...soFar(), bytes: bytes.slice(0, at), marks: marks.slice(0, marksFor(count)) }) };

  function soFar(): PackedReadings {
    return { count, bytes: bytes.subarray(0, at), first, last: count === 0 ? Number.NaN : last, unit, marks: marks.subarray(0, marksFor(count)) };
  }

  function add(instant: number, value: number): void {
    if (count === 0) first = last = instant;
    if (!(instant >= last) || !Number.isInteger(instant)) throw new RangeError(`a reading at ${instant} cannot follow one at ${last}`);
    if (count % MARK_EVERY === 0) mark();
    if (at + LONGEST_READING_BYTES > bytes.length) bytes = longer(bytes);
    const ms = instant - last;
    const isWhole = ms % SECOND_MS === 0;
    const time = (isWhole ? ms / SECOND_MS : ms) * 8 + (isWhole ? 1 : 0);
    if (value === lastValue) writeWhole(time + SAME * 2);
    else if (Number.isNaN(value)) writeWhole(time + LOST * 2);
    else writeValue(time, value);
    last = instant;
    count++;
  }

  function writeValue(time: number, value: number): void {
    const thousandths = Math.round((value / unit) * THOUSANDTHS);
    if (Math.abs(thousandths) < MOST_THOUSANDTHS && Object.is((thousandths / THOUSANDTHS) * unit, value)) {
      writeWhole(time + DIFFERENCE * 2);
      const difference = thousandths - lastThousandths;
      writeWhole(difference < 0 ? -2 * difference - 1 : 2 * difference);
      lastThousandths = thousandths;
    } else {
      writeWhole(time + DOUBLE * 2);
      double.setFloat64(0, value, true);
      bytes.set(doubleBytes, at);
      at += 8;
    }
    lastValue = value;
  }

  function writeWhole(number: number): void {
    let left = number;
    while (left >= 128) {
      bytes[at++] = (left % 128) + 128;
      left = Math.floor(left / 128);
    }
    bytes[at++] = left;
  }

  function mark(): void {
    const to = marksFor(count);
    if (to + MARK_NUMBERS > marks.length) {
      const more = new Float64Array(Math.max(MARK_NUMBERS * 4, marks.length * 2));
      more.set(marks);
      marks = more;
    }
    marks[to] = last;
    marks[to + 1] = lastThousandths;
    marks[to + 2] = lastValue;
    marks[to + 3] = at;
  }
}

/** Walks over packed readings; `instant` and `value` are those of the reading that `next` stepped to. */
export interface ReadingCursor {
  readonly next: () => boolean;
  instant: number;
  value: number;
}

/** A cursor before the first reading at or after `from`, or, without it, before the first of all. */
export function readingCursor(packed: PackedReadings, from = -Infinity): ReadingCursor {
  return cursorFrom(packed, from, markBefore(packed.marks, from));
}

/** The instant of the last reading before `instant` that is not NaN; -Infinity without one. */
export function lastKnownBefore(packed: PackedReadings, instant: number): number {
  for (let mark = markBefore(packed.marks, instant); mark >= 0; mark--) {
    const cursor = cursorFrom(packed, -Infinity, mark);
    let found = -Infinity;
    for (let i = 0; i < MARK_EVERY && cursor.next() && cursor.instant < instant; i++) {
      if (!Number.isNaN(cursor.value)) found = cursor.instant;
    }
    if (found > -Infinity) return found;
  }
  return -Infinity;
}

/** The instant of the first reading at or after `instant` that is not NaN; Infinity without one. */
export function firstKnownFrom(packed: PackedReadings, instant: number): number {
  const cursor = readingCursor(packed, instant);
  while (cursor.next()) if (!Number.isNaN(cursor.value)) return cursor.instant;
  return Infinity;
}

/** A cursor that begins at a mark and passes over what is before `from`. */
function cursorFrom({ count, bytes, unit, marks }: PackedReadings, from: number, start: number): ReadingCursor {
  const doubles = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let index = start * MARK_EVERY;
  let instant = marks[start * MARK_NUMBERS] ?? 0;
  let thousandths = marks[start * MARK_NUMBERS + 1] ?? 0;
  let value = marks[start * MARK_NUMBERS + 2] ?? Number.NaN;
  let at = marks[start * MARK_NUMBERS + 3] ?? 0;
  const cursor = { next, instant: Number.NaN, value: Number.NaN };
  return cursor;

  function next(): boolean {
    while (index < count) {
      step();
      if (instant >= from) return true;
    }
    return false;
  }

  function step(): void {
    let head = bytes[at++]!;
    if (head >= 128) head = readLong(head);
    const isWhole = head % 2 === 1;
    const kind = (head % 8) >> 1;
    const distance = Math.floor(head / 8);
    instant += isWhole ? distance * SECOND_MS : distance;
    cursor.instant = instant;
    if (kind === DIFFERENCE) {
      let zigzag = bytes[at++]!;
      if (zigzag >= 128) zigzag = readLong(zigzag);
      thousandths += zigzag % 2 === 1 ? -(zigzag + 1) / 2 : zigzag / 2;
      value = (thousandths / THOUSANDTHS) * unit;
    } else if (kind === DOUBLE) {
      value = doubles.getFloat64(at, true);
      at += 8;
    }
    cursor.value = kind === LOST ? Number.NaN : value;
    index++;
  }

  function readLong(firstByte: number): number {
    let number = firstByte - 128;
    let scale = 128;
    for (let byte = 128; byte >= 128; scale *= 128) {
      byte = bytes[at++]!;
      number += (byte % 128) * scale;
    }
    return number;
  }
}

/** All readings of parts that follow one another in time, both arrays in one pass. */
export function unpackedParts(parts: readonly PackedReadings[]): { readonly times: Float64Array; readonly values: Float64Array } {
  const count = parts.reduce((sum, part) => sum + part.count, 0);
  const times = new Float64Array(count);
  const values = new Float64Array(count);
  let at = 0;
  for (const part of parts) {
    unpackInto(part, times.subarray(at, at + part.count), values.subarray(at, at + part.count));
    at += part.count;
  }
  return { times, values };
}

/** The same as walking with a cursor, in one loop without a call a reading: ten million readings are unpacked several times. */
function unpackInto({ count, bytes, unit, marks }: PackedReadings, times: Float64Array, values: Float64Array): void {
  const doubles = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let instant = marks[0] ?? 0;
  let thousandths = marks[1] ?? 0;
  let value = marks[2] ?? Number.NaN;
  let at = 0;
  for (let i = 0; i < count; i++) {
    let head = bytes[at++]!;
    if (head >= 128) {
      head -= 128;
      for (let scale = 128, byte = 128; byte >= 128; scale *= 128) {
        byte = bytes[at++]!;
        head += (byte & 127) * scale;
      }
    }
    // Whole numbers up to 2^53, of which the lowest three bits are the same to a bitwise and.
    const flags = head & 7;
    const distance = (head - flags) / 8;
    instant += (flags & 1) === 1 ? distance * SECOND_MS : distance;
    const kind = flags >> 1;
    if (kind === DIFFERENCE) {
      let zigzag = bytes[at++]!;
      if (zigzag >= 128) {
        zigzag -= 128;
        for (let scale = 128, byte = 128; byte >= 128; scale *= 128) {
          byte = bytes[at++]!;
          zigzag += (byte & 127) * scale;
        }
      }
      thousandths += (zigzag & 1) === 1 ? -(zigzag + 1) / 2 : zigzag / 2;
      value = (thousandths / THOUSANDTHS) * unit;
    } else if (kind === DOUBLE) {
      value = doubles.getFloat64(at, true);
      at += 8;
    }
    times[i] = instant;
    values[i] = kind === LOST ? Number.NaN : value;
  }
}

/** Whether a reading with this very instant and value is among them; NaN equals NaN. Looks at a hundred readings or so. */
export function holdsReading(packed: PackedReadings, instant: number, value: number): boolean {
  if (!(instant >= packed.first && instant <= packed.last)) return false;
  const cursor = readingCursor(packed, instant);
  while (cursor.next() && cursor.instant === instant) {
    if (Object.is(cursor.value, value)) return true;
  }
  return false;
}

/** Where the numbers of the mark before reading `count` stand, if `count` is where one is due; else how many numbers the marks before it take. */
function marksFor(count: number): number {
  return Math.ceil(count / MARK_EVERY) * MARK_NUMBERS;
}

/** The last mark whose instant is before `from`: everything at or after `from` stands behind it. The first, if none is. */
function markBefore(marks: Float64Array, from: number): number {
  let low = 0;
  let high = marks.length / MARK_NUMBERS;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (marks[middle * MARK_NUMBERS]! < from) low = middle;
    else high = middle;
  }
  return low;
}

function longer(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const more = new Uint8Array(Math.max(FIRST_BYTES, bytes.length * 2));
  more.set(bytes);
  return more;
}
