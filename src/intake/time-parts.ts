import { addReading, finishPacking, makePacker, type PackedReadings } from "./packed-readings.js";
import type { Readings } from "./readings.js";
import { advance, readingCursor, unpackedReadings } from "./unpack.js";
import { DAY_MS } from "../ground/units.js";

/** A stretch of time in which the readings of a site lie, without a long hole. Both ends are instants of readings. */
export interface TimePart {
  /** Epoch milliseconds UTC; equal where all readings have one instant. */
  readonly from: number;
  readonly to: number;
  /** How many readings lie in it. */
  readonly count: number;
}

/**
 * Readings this far from the next of any signal belong to another time, or to a clock that was not set (a board without
 * a battery wakes up in 1970). Longer than any absence in which every sensor of a site is silent; our own choice.
 */
export const APART_MS = 90 * DAY_MS;

/**
 * The stretches of time with readings of any signal, in time order: between two of them there is none for more than
 * {@link APART_MS}. Empty without readings.
 */
export function timeParts(readings: Iterable<Readings>): TimePart[] {
  const all = [...readings].flatMap(spansOf).sort((a, b) => a.from - b.from);
  const [first] = all;
  if (first === undefined) return [];
  const to = all.reduce((latest, span) => Math.max(latest, span.to), first.to);
  // Usually there is no room for a hole, and nothing needs to be unpacked.
  if (to - first.from <= APART_MS) return [{ from: first.from, to, count: all.reduce((sum, { count }) => sum + count, 0) }];
  return joined(all.flatMap((span) => (span.to - span.from <= APART_MS ? [span] : [...daysOf(span.packed)])).sort((a, b) => a.from - b.from));
}

/** The readings of one stretch only: what a signal said years before does not show how it stands at the beginning. */
export function readingsWithin(readings: ReadonlyMap<string, Readings>, stretch: TimePart): ReadonlyMap<string, Readings> {
  return new Map([...readings].map(([id, { signal, parts }]) => [id, { signal, parts: parts.flatMap((packed) => packedWithin(packed, stretch)) }]));
}

/** A part that lies inside is kept as it is; one that reaches beyond is packed anew. Empty where nothing remains. */
function packedWithin(packed: PackedReadings, { from, to }: TimePart): PackedReadings[] {
  if (packed.first >= from && packed.last <= to) return [packed];
  const packer = makePacker(packed.unit);
  const cursor = readingCursor(packed, from);
  while (advance(cursor) && cursor.instant <= to) addReading(packer, cursor.instant, cursor.value);
  const kept = finishPacking(packer);
  return kept.count === 0 ? [] : [kept];
}

interface Span extends TimePart {
  readonly packed: PackedReadings;
}

function spansOf({ parts }: Readings): Span[] {
  return parts.filter(({ count }) => count > 0).map((packed) => ({ from: packed.first, to: packed.last, count: packed.count, packed }));
}

/** Instants in time order, those of a day in one piece: few enough to be sorted with those of other signals. */
function* daysOf(packed: PackedReadings): Generator<TimePart> {
  let [from, to, count] = [Number.NaN, Number.NaN, 0];
  for (const instant of unpackedReadings({ parts: [packed] }).times) {
    if (count > 0 && instant - from < DAY_MS) {
      to = instant;
      count++;
      continue;
    }
    if (count > 0) yield { from, to, count };
    [from, to, count] = [instant, instant, 1];
  }
  if (count > 0) yield { from, to, count };
}

function joined(pieces: readonly TimePart[]): TimePart[] {
  const parts: TimePart[] = [];
  for (const { from, to, count } of pieces) {
    const last = parts.at(-1);
    if (last === undefined || from - last.to > APART_MS) parts.push({ from, to, count });
    else parts[parts.length - 1] = { from: last.from, to: Math.max(last.to, to), count: last.count + count };
  }
  return parts;
}
