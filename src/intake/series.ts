import { makeLateReadings } from "./late-readings.js";
import { holdsReading, makePacker, readingCursor, type PackedReadings } from "./packed-readings.js";

/**
 * The growing readings of one signal in one file: packed while they come in time order. What comes late costs more memory
 * and time, and is sorted in at the end.
 */
export interface Series {
  /** Whether a reading with this very instant and value is there already, or among those said to be known elsewhere. */
  readonly has: (instant: number, value: number) => boolean;
  /** Takes a reading in; the caller has made sure that it is new. `instant` is a whole number. */
  readonly add: (instant: number, value: number) => void;
  /** The readings in time order, equal instants in the order they came. */
  readonly finish: () => PackedReadings;
}

/** Makes an empty series; `unit` as in {@link makePacker}, `known` are readings that earlier files hold. */
export function makeSeries(unit: number, known: readonly PackedReadings[] = []): Series {
  const inOrder = makePacker(unit);
  const late = makeLateReadings();
  let latest = -Infinity;
  /** The values at the latest instant: repeats mostly follow one another at once. */
  let latestValues: number[] = [];

  return {
    has(instant, value) {
      if (known.length > 0 && known.some((packed) => holdsReading(packed, instant, value))) return true;
      if (instant > latest) return false;
      if (instant === latest) return latestValues.some((one) => Object.is(one, value));
      return late.has(instant, value) || holdsReading(inOrder.soFar(), instant, value);
    },
    add(instant, value) {
      if (instant < latest) {
        late.add(instant, value);
        return;
      }
      inOrder.add(instant, value);
      if (instant === latest) latestValues.push(value);
      else latestValues = [value];
      latest = instant;
    },
    finish: () => (late.count() === 0 ? inOrder.finish() : sortedIn(inOrder.soFar(), late.sorted(), unit)),
  };
}

/** At equal instants those that came in order stand first: the late ones came later. */
function sortedIn(inOrder: PackedReadings, late: { readonly times: Float64Array; readonly values: Float64Array }, unit: number): PackedReadings {
  const packer = makePacker(unit);
  const cursor = readingCursor(inOrder);
  let i = 0;
  while (cursor.next()) {
    for (; i < late.times.length && late.times[i]! < cursor.instant; i++) packer.add(late.times[i]!, late.values[i]!);
    packer.add(cursor.instant, cursor.value);
  }
  for (; i < late.times.length; i++) packer.add(late.times[i]!, late.values[i]!);
  return packer.finish();
}
