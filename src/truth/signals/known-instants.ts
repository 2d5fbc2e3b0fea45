import { firstAtOrAfter, firstWhere } from "../../ground/search.js";
import { firstKnownFrom, lastKnownBefore } from "../../intake/packed-readings.js";
import type { Readings } from "../../intake/readings.js";

/** The instants at which a signal said something other than "lost", to be asked one by one. */
export interface KnownInstants {
  /** The first strictly after an instant, and the first at or after one; Infinity without any. */
  readonly firstAfter: (instant: number) => number;
  readonly firstFrom: (instant: number) => number;
  /** The last strictly before an instant; -Infinity without any. */
  readonly lastBefore: (instant: number) => number;
}

/**
 * Those of a signal's readings. Few questions are asked, each costs some hundred packed readings: nothing is unpacked.
 */
export function knownInstants(readings: Readings): KnownInstants {
  const { parts } = readings;
  if (parts === undefined) return knownAmong(readings);
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

/** The same for readings that are not packed. */
function knownAmong({ times, values }: Readings): KnownInstants {
  const known = times.filter((_, i) => !Number.isNaN(values[i]));
  return {
    firstFrom: (instant) => known[firstAtOrAfter(known, instant)] ?? Infinity,
    firstAfter: (instant) => known[firstWhere(known.length, (i) => known[i]! > instant)] ?? Infinity,
    lastBefore: (instant) => known[firstAtOrAfter(known, instant) - 1] ?? -Infinity,
  };
}
