import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import { remembered } from "../../ground/remembered.js";

/** Tells times as the site's people would. */
export interface LocalWords {
  /** `17:17`, to the nearest minute. */
  readonly time: (at: number) => string;
  /** `Tuesday 20 October`. */
  readonly day: (at: number) => string;
  /** `20 October`. */
  readonly date: (at: number) => string;
  /** `17:17`, or `17:17 on Tuesday 20 October` where that is another day than the one given. */
  readonly timeFrom: (at: number, day: number) => string;
  /** `2026-10-20T17:17`, for names of questions. */
  readonly stamp: (at: number) => string;
  /** The local hour of the day with its fraction, 0 to 24. */
  readonly hour: (at: number) => number;
  /** The first instant of the local day, `days` later. */
  readonly midnight: (at: number, days?: number) => number;
  /** The instant at which a whole hour is shown on the local day that begins at `midnight`; 24 and more are hours of the next day. */
  readonly hourOf: (midnight: number, hour: number) => number;
}

const HALF_MINUTE_MS = 30_000;

/** {@link LocalWords} for an IANA zone. What is asked about many people at the same instants is worked out once. */
export function localWords(timeZone: string): LocalWords {
  const local = (at: number): DateTime => DateTime.fromMillis(at, { zone: zoneOf(timeZone) }).setLocale("en-GB");
  const rounded = (at: number): DateTime => local(at + HALF_MINUTE_MS);
  const time = (at: number): string => rounded(at).toFormat("HH:mm");
  const hoursFrom = remembered((midnight: number) => remembered((hour: number) => local(midnight).plus({ days: Math.floor(hour / 24) }).set({ hour: hour % 24 }).toMillis()));
  const day = (at: number): string => rounded(at).toFormat("cccc d MMMM");
  return {
    time,
    day,
    date: (at) => rounded(at).toFormat("d MMMM"),
    timeFrom: (at, other) => (day(at) === day(other) ? time(at) : `${time(at)} on ${day(at)}`),
    stamp: remembered((at) => local(at).toFormat("yyyy-MM-dd'T'HH:mm")),
    hour: remembered((at) => {
      const { hour, minute, second } = local(at);
      return hour + minute / 60 + second / 3600;
    }),
    midnight: (at, days = 0) => local(at).startOf("day").plus({ days }).toMillis(),
    hourOf: (midnight, hour) => hoursFrom(midnight)(hour),
  };
}
