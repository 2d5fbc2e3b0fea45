import { firstKnownFrom, lastKnownBefore } from "../../intake/packed-readings.js";
import type { Readings } from "../../intake/readings.js";

/** The instants at which a signal said something that is not "lost", to be asked one by one. */
export interface KnownInstants {
  /** The first strictly after an instant, and the first at or after one; Infinity without any. */
  readonly firstAfter: (instant: number) => number;
  readonly firstFrom: (instant: number) => number;
  /** The last strictly before an instant; -Infinity without any. */
  readonly lastBefore: (instant: number) => number;
}

/** Those of a signal's readings. A question costs a look at some hundred packed readings: few are asked, so nothing is unpacked. */
export function knownInstants(readings: Readings): KnownInstants {
  const { parts } = readings;
  if (parts === undefined) return knownAmong(readings.times.filter((_, i) => !Number.isNaN(readings.values[i])));
  const firstFrom = (instant: number): number => {
    for (const part of parts) {
      const found = part.last < instant ? Infinity : firstKnownFrom(part, instant);
      if (found < Infinity) return found;
    }
    return Infinity;
  };
  return {
    firstFrom,
    // Instants are whole milliseconds.
    firstAfter: (instant) => firstFrom(Math.floor(instant) + 1),
    lastBefore(instant) {
      for (const part of parts.toReversed()) {
        const found = part.first >= instant ? -Infinity : lastKnownBefore(part, instant);
        if (found > -Infinity) return found;
      }
      return -Infinity;
    },
  };
}

/** The same over plain instants in order. */
export function knownAmong(times: Float64Array): KnownInstants {
  const indexOf = (isPast: (time: number) => boolean): number => {
    let low = 0;
    let high = times.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (isPast(times[middle]!)) high = middle;
      else low = middle + 1;
    }
    return low;
  };
  return {
    firstAfter: (instant) => times[indexOf((time) => time > instant)] ?? Infinity,
    firstFrom: (instant) => times[indexOf((time) => time >= instant)] ?? Infinity,
    lastBefore: (instant) => times[indexOf((time) => time >= instant) - 1] ?? -Infinity,
  };
}
