import { addReading, finishPacking, makePacker, packedSoFar, type PackedReadings, type Packer } from "./packed-readings.js";
import { advance, holdsReading, readingCursor } from "./unpack.js";

/**
 * The growing readings of one signal in one file: packed while they come in time order. Late readings are kept aside and
 * sorted in at the end, which costs more memory and time. Change it only through {@link addToSeries}.
 */
export interface Series {
  readonly inOrder: Packer;
  /** Values by instant, in the order they came, of readings that came after later ones. */
  readonly late: Map<number, number[]>;
  /** Readings that earlier files hold. */
  readonly known: readonly PackedReadings[];
  latest: number;
  /** The values at the latest instant: most repeats are adjacent. */
  latestValues: number[];
}

/** An empty series. `unit` as in {@link makePacker}; `known` are readings that earlier files hold. */
export function makeSeries(unit: number, known: readonly PackedReadings[] = []): Series {
  return { inOrder: makePacker(unit), late: new Map(), known, latest: -Infinity, latestValues: [] };
}

/** Whether the series, or an earlier file, has a reading with exactly this instant and value. NaN equals NaN. */
export function seriesHas(series: Series, instant: number, value: number): boolean {
  const { known, late, latest, latestValues, inOrder } = series;
  if (known.length > 0 && known.some((packed) => holdsReading(packed, instant, value))) return true;
  if (instant > latest) return false;
  if (instant === latest) return isAmong(latestValues, value);
  return isAmong(late.get(instant) ?? [], value) || holdsReading(packedSoFar(inOrder), instant, value);
}

/** Adds a reading that the series does not have yet. `instant` is a whole number. */
export function addToSeries(series: Series, instant: number, value: number): void {
  if (instant < series.latest) {
    const there = series.late.get(instant);
    if (there === undefined) series.late.set(instant, [value]);
    else there.push(value);
    return;
  }
  addReading(series.inOrder, instant, value);
  if (instant === series.latest) series.latestValues.push(value);
  else series.latestValues = [value];
  series.latest = instant;
}

/** The readings in time order, equal instants in the order they came. */
export function finishSeries({ inOrder, late }: Series): PackedReadings {
  return late.size === 0 ? finishPacking(inOrder) : sortedIn(packedSoFar(inOrder), late);
}

/** At equal instants, late readings come last: they came later. */
function sortedIn(inOrder: PackedReadings, late: ReadonlyMap<number, readonly number[]>): PackedReadings {
  const packer = makePacker(inOrder.unit);
  const cursor = readingCursor(inOrder);
  let hasNext = advance(cursor);
  for (const instant of Float64Array.from(late.keys()).sort()) {
    for (; hasNext && cursor.instant <= instant; hasNext = advance(cursor)) addReading(packer, cursor.instant, cursor.value);
    for (const value of late.get(instant) ?? []) addReading(packer, instant, value);
  }
  for (; hasNext; hasNext = advance(cursor)) addReading(packer, cursor.instant, cursor.value);
  return finishPacking(packer);
}

function isAmong(values: readonly number[], value: number): boolean {
  return values.some((one) => Object.is(one, value));
}
