import { IANAZone } from "luxon";
import { MINUTE_MS } from "../ground/units.js";

/** Two clocks that ran alike start and stop within this time; another zone is at least half an hour off (our own choice). */
const ALIKE_MS = 15 * MINUTE_MS;

/** An instant and the offset from UTC that its stamp carried. */
export interface OffsetSeen {
  readonly instant: number;
  readonly minutes: number;
}

/** The zones whose clocks show every offset seen; `changed` says whether the offset changed within the exports. */
export interface ZonesFound {
  readonly zones: readonly string[];
  readonly offsets: readonly number[];
  readonly changed: boolean;
}

/**
 * The IANA zones that fit the offsets of stamps. Only the ends of stretches of one offset can tell zones apart, and a
 * few instants between them. Stamps that are all in UTC say nothing of where they were written: no zone then.
 */
export function zonesFor(seen: readonly OffsetSeen[]): ZonesFound {
  const sorted = [...seen].sort((a, b) => a.instant - b.instant);
  const offsets = [...new Set(sorted.map(({ minutes }) => minutes))].sort((a, b) => a - b);
  const changed = offsets.length > 1;
  if (offsets.length === 0 || (!changed && offsets[0] === 0)) return { zones: [], offsets, changed };
  const step = Math.max(1, Math.floor(sorted.length / 50));
  const telling = sorted
    .filter(
      (one, i) =>
        i % step === 0 || i === sorted.length - 1 || one.minutes !== sorted[i - 1]?.minutes || one.minutes !== sorted[i + 1]?.minutes,
    )
    .slice(0, 400);
  const zones = Intl.supportedValuesOf("timeZone").filter((zone) =>
    telling.every(({ instant, minutes }) => IANAZone.create(zone).offset(instant) === minutes),
  );
  return { zones: zones.sort((a, b) => rank(a) - rank(b) || (a < b ? -1 : 1)), offsets, changed };
}

/** First and last instant, or wall-clock reading, of an export. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * Whose clock wrote stamps without an offset, if another export shows it: the one whose first and last reading lie
 * close to those of the other as local wall clock, and far from them as UTC, or the other way round. Null when it does not.
 */
export function clockBySpan(bare: Span, localWall: Span, utcWall: Span): "local" | "UTC" | null {
  const local = apart(bare, localWall);
  const utc = apart(bare, utcWall);
  if (local <= ALIKE_MS && utc > 2 * ALIKE_MS) return "local";
  if (utc <= ALIKE_MS && local > 2 * ALIKE_MS) return "UTC";
  return null;
}

function apart(a: Span, b: Span): number {
  return Math.max(Math.abs(a.from - b.from), Math.abs(a.to - b.to));
}

/** Zones of large countries first: they only stand at the head of a list to choose from. */
function rank(zone: string): number {
  const wellKnown = [
    "Europe/London", "Europe/Berlin", "Europe/Athens", "America/New_York", "America/Chicago", "America/Denver",
    "America/Los_Angeles", "Asia/Tokyo", "Asia/Kolkata", "Australia/Sydney",
  ].indexOf(zone);
  return wellKnown >= 0 ? wellKnown : 100;
}
