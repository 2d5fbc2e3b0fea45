import type { Readings } from "./readings.js";

const FIRST_CAPACITY = 1024;
const FREE = -1;

/**
 * The growing readings of one signal: 16 bytes a reading in typed arrays, and, once a reading comes that is not later
 * than all before it, 8 to 16 bytes more for an index that recognises repeats.
 */
export interface Series {
  /** Whether a reading with this very instant and value is there already. */
  readonly has: (instant: number, value: number) => boolean;
  /** Takes a reading in; the caller has made sure that it is new. */
  readonly add: (instant: number, value: number) => void;
  /** The readings in time order, equal instants in the order they came. */
  readonly finish: () => Readings;
}

/** Makes an empty series. */
export function makeSeries(signal: string): Series {
  let times = new Float64Array(FIRST_CAPACITY);
  let values = new Float64Array(FIRST_CAPACITY);
  let count = 0;
  let latest = -Infinity;
  let isSorted = true;
  /** Open addressing: positions in `times`, or FREE; at most half full. Null while nothing could repeat. */
  let index: Int32Array | null = null;
  const floats = new Float64Array(2);
  const words = new Uint32Array(floats.buffer);

  return { has, add, finish };

  function has(instant: number, value: number): boolean {
    if (instant > latest) return false;
    index ??= indexed(capacityFor(count));
    return index[slotOf(index, instant, value)] !== FREE;
  }

  function add(instant: number, value: number): void {
    if (count === times.length) {
      times = grown(times);
      values = grown(values);
    }
    times[count] = instant;
    values[count] = value;
    if (instant > latest) latest = instant;
    else if (instant < latest) isSorted = false;
    if (index !== null) {
      if (count * 2 >= index.length) index = indexed(index.length * 2);
      index[slotOf(index, instant, value)] = count;
    }
    count++;
  }

  function finish(): Readings {
    index = null;
    if (isSorted) return { signal, times: times.slice(0, count), values: values.slice(0, count) };
    const order = Uint32Array.from({ length: count }, (_, i) => i).sort((a, b) => times[a]! - times[b]! || a - b);
    return { signal, times: Float64Array.from(order, (i) => times[i]!), values: Float64Array.from(order, (i) => values[i]!) };
  }

  /** A fresh index over the readings so far. */
  function indexed(capacity: number): Int32Array {
    const slots = new Int32Array(capacity).fill(FREE);
    for (let i = 0; i < count; i++) slots[slotOf(slots, times[i]!, values[i]!)] = i;
    return slots;
  }

  /** Where the reading stands in the index, or the free slot where it would. NaN equals NaN here. */
  function slotOf(slots: Int32Array, instant: number, value: number): number {
    const mask = slots.length - 1;
    let slot = hash(instant, value) & mask;
    for (let at = slots[slot]!; at !== FREE; at = slots[slot]!) {
      if (times[at] === instant && Object.is(values[at], value)) break;
      slot = (slot + 1) & mask;
    }
    return slot;
  }

  /** Mixes the four words of the two doubles (multiplications and shifts of the murmur3 finaliser). */
  function hash(instant: number, value: number): number {
    floats[0] = instant;
    floats[1] = value;
    let mixed = words[0]! ^ Math.imul(words[1]!, 0x9e3779b1) ^ Math.imul(words[2]!, 0x85ebca6b) ^ Math.imul(words[3]!, 0xc2b2ae35);
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return mixed ^ (mixed >>> 16);
  }
}

/** The smallest power of two that leaves an index of `count` readings at most half full, with room to grow. */
function capacityFor(count: number): number {
  return 2 ** Math.ceil(Math.log2(Math.max(count * 2 + 2, FIRST_CAPACITY)));
}

function grown(array: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(array.length * 2);
  larger.set(array);
  return larger;
}
