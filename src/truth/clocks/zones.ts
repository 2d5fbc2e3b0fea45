import { DateTime } from "luxon";
import type { Source } from "../../site/site.js";

/** A zone explains an offset that is within this of the difference of the two zones: what is left are the sensors' own lags. Our own choice. Seconds. */
const ZONE_FITS_WITHIN_SECONDS = 120;

/** Whether the zone that the site file gives can matter to a source: not where stamps are counted in seconds since 1970. */
export function standsInZone({ written }: Source): boolean {
  return written !== "epoch-s" && written !== "epoch-ms";
}

/**
 * The first of the zones read in which the source's stamps would lie `missingSeconds` later than they do; null where none of them does.
 * Zones are compared at one instant (epoch milliseconds): clock changes within a period are the zones' own affair. Names not given are passed over.
 */
export function fittingZone({ zone }: Source, missingSeconds: number, candidates: readonly (string | undefined)[], at: number): string | null {
  const own = offsetSeconds(zone, at);
  // A stamp read in a zone further ahead of UTC is an earlier instant.
  return candidates.find((name): name is string => name !== undefined && Math.abs(own - offsetSeconds(name, at) - missingSeconds) <= ZONE_FITS_WITHIN_SECONDS) ?? null;
}

function offsetSeconds(zone: string, at: number): number {
  return DateTime.fromMillis(at, { zone }).offset * 60;
}
