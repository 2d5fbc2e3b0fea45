import { addReading, finishPacking, makePacker, type PackedReadings } from "../../src/intake/packed-readings.js";
import type { Readings } from "../../src/intake/readings.js";
import { unpackedReadings } from "../../src/intake/unpack.js";

/** A reading as `[instant, value]`. */
export type Pair = readonly [number, number];

/** Readings packed as intake packs them. */
export function packed(pairs: readonly Pair[], unit = 1): PackedReadings {
  const packer = makePacker(unit);
  for (const [instant, value] of pairs) addReading(packer, instant, value);
  return finishPacking(packer);
}

/** What intake hands on of one signal. */
export function readingsOf(signal: string, pairs: readonly Pair[]): Readings {
  return { signal, parts: [packed(pairs)] };
}

/** All readings, unpacked. */
export function pairsOf(readings: Pick<Readings, "parts">): Pair[] {
  const { times, values } = unpackedReadings(readings);
  return Array.from(times, (time, i): Pair => [time, values[i]!]);
}
