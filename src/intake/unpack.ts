/* eslint-disable @typescript-eslint/no-non-null-assertion -- marks and bytes are read only as far as they were packed; a block holds what its cursor points at */
import { firstWhere } from "../ground/search.js";
import { SECOND_MS } from "../ground/units.js";
import { DIFFERENCE, DOUBLE, LOST, MARK_EVERY, MARK_NUMBERS, THOUSANDTHS, type PackedReadings } from "./packed-readings.js";
import type { Readings } from "./readings.js";

/** Readings as two arrays of one length. `times` are epoch milliseconds. */
export interface UnpackedReadings {
  readonly times: Float64Array;
  readonly values: Float64Array;
}

/** Unpacks all of a signal's readings. This takes time and memory: call it once, and let the arrays go after use. */
export function unpackedReadings({ parts }: Pick<Readings, "parts">): UnpackedReadings {
  const count = readingCount({ parts });
  const [times, values] = [new Float64Array(count), new Float64Array(count)];
  let at = 0;
  for (const part of parts) {
    unpackInto(part, 0, times.subarray(at, at + part.count), values.subarray(at, at + part.count));
    at += part.count;
  }
  return { times, values };
}

/** How many readings a signal has. */
export function readingCount({ parts }: Pick<Readings, "parts">): number {
  return parts.reduce((sum, part) => sum + part.count, 0);
}

/** A place in packed readings; `instant` and `value` are those of the reading that {@link advance} moved to last. */
export interface ReadingCursor {
  instant: number;
  value: number;
  readonly packed: PackedReadings;
  /** The unpacked readings from a mark to the next, the mark's number, and the place among them. */
  block: UnpackedReadings;
  mark: number;
  at: number;
}

/** A cursor before the first reading at or after `from`; without `from`, before the first reading. */
export function readingCursor(packed: PackedReadings, from = -Infinity): ReadingCursor {
  const mark = markBefore(packed.marks, from);
  const block = blockAt(packed, mark);
  const first = block.times.findIndex((instant) => instant >= from);
  return { instant: Number.NaN, value: Number.NaN, packed, block, mark, at: (first < 0 ? block.times.length : first) - 1 };
}

/** Moves a cursor to the next reading; false when there is none. */
export function advance(cursor: ReadingCursor): boolean {
  cursor.at++;
  if (cursor.at >= cursor.block.times.length) {
    cursor.mark++;
    cursor.at = 0;
    cursor.block = blockAt(cursor.packed, cursor.mark);
    if (cursor.block.times.length === 0) return false;
  }
  cursor.instant = cursor.block.times[cursor.at]!;
  cursor.value = cursor.block.values[cursor.at]!;
  return true;
}

/** Whether a reading with exactly this instant and value is among them; NaN equals NaN. */
export function holdsReading(packed: PackedReadings, instant: number, value: number): boolean {
  if (!(instant >= packed.first && instant <= packed.last)) return false;
  const cursor = readingCursor(packed, instant);
  while (advance(cursor) && cursor.instant === instant) {
    if (Object.is(cursor.value, value)) return true;
  }
  return false;
}

/** The instant of the last reading before `instant` that is not NaN; -Infinity without one. */
export function lastKnownBefore(packed: PackedReadings, instant: number): number {
  for (let mark = markBefore(packed.marks, instant); mark >= 0; mark--) {
    const { times, values } = blockAt(packed, mark);
    const found = times.findLastIndex((time, i) => time < instant && !Number.isNaN(values[i]));
    if (found >= 0) return times[found]!;
  }
  return -Infinity;
}

/** The instant of the first reading at or after `instant` that is not NaN; Infinity without one. */
export function firstKnownFrom(packed: PackedReadings, instant: number): number {
  const cursor = readingCursor(packed, instant);
  while (advance(cursor)) if (!Number.isNaN(cursor.value)) return cursor.instant;
  return Infinity;
}

/** The readings from a mark to the next; none behind the last. */
function blockAt(packed: PackedReadings, mark: number): UnpackedReadings {
  const count = Math.max(0, Math.min(MARK_EVERY, packed.count - mark * MARK_EVERY));
  const block = { times: new Float64Array(count), values: new Float64Array(count) };
  unpackInto(packed, mark, block.times, block.values);
  return block;
}

/**
 * Fills `times` and `values` with the readings from a mark on. One loop without a call a reading: an audit unpacks ten
 * million readings several times.
 */
function unpackInto({ bytes, unit, marks }: PackedReadings, mark: number, times: Float64Array, values: Float64Array): void {
  const count = times.length;
  if (count === 0) return;
  const doubles = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  // There is a mark before every 64th reading, and `bytes` end with a whole reading.
  let instant = marks[mark * MARK_NUMBERS]!;
  let thousandths = marks[mark * MARK_NUMBERS + 1]!;
  let value = marks[mark * MARK_NUMBERS + 2]!;
  let at = marks[mark * MARK_NUMBERS + 3]!;
  for (let i = 0; i < count; i++) {
    let head = bytes[at++]!;
    if (head >= 128) {
      head -= 128;
      for (let scale = 128, byte = 128; byte >= 128; scale *= 128) {
        byte = bytes[at++]!;
        head += (byte & 127) * scale;
      }
    }
    // A whole number up to 2^53: a bitwise "and" still sees its lowest three bits.
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

/** The last mark that lies before `from`: the first reading at or after `from` is in its block. The first mark, if none does. */
function markBefore(marks: Float64Array, from: number): number {
  const later = firstWhere(marks.length / MARK_NUMBERS, (mark) => marks[mark * MARK_NUMBERS]! >= from);
  return Math.max(0, later - 1);
}
