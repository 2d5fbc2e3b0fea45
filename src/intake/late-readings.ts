const FIRST_CAPACITY = 256;
const FREE = -1;

/** Readings that came after later ones: 16 bytes each, and 8 to 16 more for an index that recognises repeats. */
export interface LateReadings {
  readonly count: () => number;
  /** NaN equals NaN. */
  readonly has: (instant: number, value: number) => boolean;
  readonly add: (instant: number, value: number) => void;
  /** In time order, equal instants in the order they came. */
  readonly sorted: () => { readonly times: Float64Array; readonly values: Float64Array };
}

/** Makes an empty store. */
export function makeLateReadings(): LateReadings {
  // Nothing is set aside for what seldom comes.
  let times = new Float64Array(0);
  let values = new Float64Array(0);
  let count = 0;
  /** Open addressing: positions in `times`, or FREE; at most half full. */
  let index = new Int32Array(0);
  const floats = new Float64Array(2);
  const words = new Uint32Array(floats.buffer);

  return { count: () => count, has: (instant, value) => count > 0 && index[slotOf(instant, value)] !== FREE, add, sorted };

  function add(instant: number, value: number): void {
    if (count === times.length) {
      times = grown(times);
      values = grown(values);
      index = new Int32Array(times.length * 2).fill(FREE);
      for (let i = 0; i < count; i++) index[slotOf(times[i]!, values[i]!)] = i;
    }
    times[count] = instant;
    values[count] = value;
    index[slotOf(instant, value)] = count;
    count++;
  }

  function sorted(): { times: Float64Array; values: Float64Array } {
    const order = Uint32Array.from({ length: count }, (_, i) => i).sort((a, b) => times[a]! - times[b]! || a - b);
    return { times: Float64Array.from(order, (i) => times[i]!), values: Float64Array.from(order, (i) => values[i]!) };
  }

  /** Where the reading stands in the index, or the free slot where it would. */
  function slotOf(instant: number, value: number): number {
    const mask = index.length - 1;
    let slot = hash(instant, value) & mask;
    for (let at = index[slot]!; at !== FREE; at = index[slot]!) {
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

function grown(array: Float64Array<ArrayBuffer>): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(Math.max(FIRST_CAPACITY, array.length * 2));
  larger.set(array);
  return larger;
}
