import { zoneOf } from "../ground/zone.js";
import { DAY_MS, MINUTE_MS } from "../ground/units.js";

/** How often a local time occurs: once; twice (this is the first or the second time); or never, skipped by a clock change. */
export type LocalKind = "once" | "first" | "second" | "skipped";

/** A local time placed on the line of instants (epoch milliseconds UTC). */
export interface LocalInstant {
  readonly instant: number;
  readonly kind: LocalKind;
}

/**
 * What a wall clock shows, as one number: the epoch milliseconds that a clock set to UTC would show at the same
 * reading. Months count from 1. The parts must exist in the calendar; years 0 to 9999.
 */
export function wallClockMs(year: number, month: number, day: number, hour = 0, minute = 0, second = 0, millisecond = 0): number {
  // Date.UTC takes the years 0 to 99 for 1900 to 1999; setUTCFullYear does not.
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  date.setUTCHours(hour, minute, second, millisecond);
  return date.getTime();
}

/**
 * The instant at which wall clocks in an IANA zone show `wallMs` (see {@link wallClockMs}). A local time that occurs
 * twice gives the pass asked for and says which it is. A skipped one is shifted forward by the length of the gap
 * (read with the offset in force before the change), kind `skipped`: the caller decides whether to use it.
 * Throws `RangeError` for a zone that the machine does not know.
 */
export function localInstant(wallMs: number, zone: string, pass: "first" | "second" = "first"): LocalInstant {
  // Clock changes lie further apart than two days, so that the offsets a day before and a day after are all there are.
  const before = offsetMs(wallMs - DAY_MS, zone);
  const after = offsetMs(wallMs + DAY_MS, zone);
  const early = wallMs - Math.max(before, after);
  const late = wallMs - Math.min(before, after);
  const earlyFits = early + offsetMs(early, zone) === wallMs;
  if (early === late) return { instant: early, kind: "once" };
  const lateFits = late + offsetMs(late, zone) === wallMs;
  if (earlyFits && lateFits) return pass === "first" ? { instant: early, kind: "first" } : { instant: late, kind: "second" };
  if (earlyFits) return { instant: early, kind: "once" };
  if (lateFits) return { instant: late, kind: "once" };
  return { instant: wallMs - before, kind: "skipped" };
}

/**
 * The first instant of a local calendar day: local midnight, or, where a clock change skipped midnight (or the whole
 * day), the instant of that change. Midnight that occurs twice: the first. Throws `RangeError` for an unknown zone.
 */
export function localDayStart(year: number, month: number, day: number, zone: string): number {
  const midnight = wallClockMs(year, month, day);
  const { instant, kind } = localInstant(midnight, zone);
  if (kind !== "skipped") return instant;
  // The change lies where local time passes midnight: bisect for the first instant that shows midnight or later.
  let low = instant - DAY_MS - 1;
  let high = instant;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (middle + offsetMs(middle, zone) >= midnight) high = middle;
    else low = middle;
  }
  return high;
}

/** How far the zone's wall clocks are ahead of UTC at an instant, in milliseconds. Throws `RangeError` for an unknown zone. */
export function offsetMs(instant: number, zone: string): number {
  const minutes = zoneOf(zone).offset(instant);
  if (Number.isNaN(minutes)) throw new RangeError(`no offset for the time zone ${JSON.stringify(zone)} at ${instant}`);
  return Math.round(minutes * MINUTE_MS);
}
