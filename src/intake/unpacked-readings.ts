import { unpackedParts } from "./packed-readings.js";
import type { Readings } from "./readings.js";

/** A signal's readings as two arrays, unpacked in one pass. Take them once, and let them go after use. */
export function unpackedReadings(readings: Readings): { readonly times: Float64Array; readonly values: Float64Array } {
  return readings.parts === undefined ? { times: readings.times, values: readings.values } : unpackedParts(readings.parts);
}
