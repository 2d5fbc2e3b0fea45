import type { Readings } from "../../intake/readings.js";
import { firstKnownFrom, lastKnownBefore } from "../../intake/unpack.js";

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
export function knownInstants({ parts }: Pick<Readings, "parts">): KnownInstants {
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
