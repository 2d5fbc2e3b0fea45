import { remembered } from "../ground/remembered.js";
import { DAY_MS, MINUTE_MS } from "../ground/units.js";
import { NEUTRAL_DAY_ONE, NEUTRAL_MADE } from "../result/redact-clock.js";

/** Writes instants as the site's own clocks showed them. */
export interface LocalClock {
  /** The zone the times are in, in words; says so where the site's own zone could not be used. */
  readonly zone: string;
  /** `Sun 25 Oct 2026, 01:30:12`, and in a repeated hour `… (UTC+1)`. */
  readonly moment: (instant: number) => string;
  /** `Sun 25 Oct 2026`. */
  readonly day: (instant: number) => string;
  /** `25 Oct`. */
  readonly date: (instant: number) => string;
  /** `01:30:12`, and in a repeated hour `01:30:12 (UTC+1)`. */
  readonly time: (instant: number) => string;
  /** As `time`, without seconds. */
  readonly shortTime: (instant: number) => string;
  /** `UTC+1`, `UTC−3:30`. */
  readonly offset: (instant: number) => string;
  /** Local time minus UTC, in milliseconds. */
  readonly offsetMs: (instant: number) => number;
  /** The seven days of a week, as they head rows. */
  readonly weekdays: readonly { readonly long: string; readonly short: string }[];
  /** Place of the instant's local day among them. */
  readonly weekday: (instant: number) => number;
  /** Local hour, 0 to 23. */
  readonly hour: (instant: number) => number;
}

const QUARTER_MS = 15 * MINUTE_MS;
const HALF_DAY_MS = DAY_MS / 2;
/** Taken off an instant, it makes Monday the first day of its week. */
const MONDAY_MS = DAY_MS;
const DAYS_A_WEEK = 7;
const weekdays = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"].map((long) => ({
  long,
  short: long.slice(0, 3),
}));

/**
 * A clock for an IANA zone. In the hour that the end of summer time repeats, every time carries its offset, because
 * the wall time alone names two instants. An unknown zone falls back to UTC and `zone` says so: the report is still
 * worth reading.
 */
export function localClock(timeZone: string): LocalClock {
  const known = zoneIsKnown(timeZone);
  const used = known ? timeZone : "UTC";
  const fields = formatter(used, {
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
  const dayFormat = formatter(used, { weekday: "short", day: "numeric", month: "short", year: "numeric" });
  const dateFormat = formatter(used, { day: "numeric", month: "short" });
  const timeFormat = formatter(used, { hour: "2-digit", minute: "2-digit", second: "2-digit" });
  const shortFormat = formatter(used, { hour: "2-digit", minute: "2-digit" });

  // Clocks are changed on the quarter of an hour, so an offset holds for a whole one.
  const offsetOfQuarter = remembered((quarter: number) => wallMs(fields, quarter * QUARTER_MS) - quarter * QUARTER_MS);
  const offsetMs = (instant: number): number => offsetOfQuarter(Math.floor(instant / QUARTER_MS));
  const offset = (instant: number): string => offsetText(offsetMs(instant));
  const repeated = (instant: number): boolean => {
    const own = offsetMs(instant);
    return [instant - HALF_DAY_MS, instant + HALF_DAY_MS].some((nearby) => {
      const other = offsetMs(nearby);
      return other !== own && offsetMs(instant + own - other) === other;
    });
  };
  const marked = (text: string, instant: number): string => (repeated(instant) ? `${text} (${offset(instant)})` : text);
  const day = (instant: number): string => dayFormat.format(instant).replace(",", "");
  return {
    zone: known ? timeZone : `UTC, because “${timeZone}” is no time zone known here`,
    moment: (instant) => marked(`${day(instant)}, ${timeFormat.format(instant)}`, instant),
    day,
    date: (instant) => dateFormat.format(instant),
    time: (instant) => marked(timeFormat.format(instant), instant),
    shortTime: (instant) => marked(shortFormat.format(instant), instant),
    offset,
    offsetMs,
    weekdays,
    weekday: (instant) => new Date(instant + offsetMs(instant) - MONDAY_MS).getUTCDay(),
    hour: (instant) => new Date(instant + offsetMs(instant)).getUTCHours(),
  };
}

function formatter(timeZone: string, fields: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  return new Intl.DateTimeFormat("en-GB", { ...fields, timeZone, hourCycle: "h23" });
}

function zoneIsKnown(timeZone: string): boolean {
  try {
    formatter(timeZone, { year: "numeric" });
    return true;
  } catch {
    return false;
  }
}

function wallMs(fields: Intl.DateTimeFormat, instant: number): number {
  const part = new Map(fields.formatToParts(instant).map(({ type, value }) => [type, Number(value)]));
  const of = (type: Intl.DateTimeFormatPartTypes): number => part.get(type) ?? 0;
  return Date.UTC(of("year"), of("month") - 1, of("day"), of("hour"), of("minute"), of("second"));
}

function offsetText(ms: number): string {
  const minutes = Math.round(Math.abs(ms) / MINUTE_MS);
  if (minutes === 0) return "UTC";
  const rest = minutes % 60;
  return `UTC${ms < 0 ? "−" : "+"}${Math.floor(minutes / 60)}${rest === 0 ? "" : `:${String(rest).padStart(2, "0")}`}`;
}

/** A clock for a redacted result: days are counted from the first one, times of day are the site's own. */
export const dayClock: LocalClock = {
  zone: "the site’s own; dates are told as days of the period",
  moment: (instant) => (instant === NEUTRAL_MADE ? "at a time left out" : `${dayOfPeriod(instant)}, ${utcTime(instant)}`),
  day: dayOfPeriod,
  date: dayOfPeriod,
  time: utcTime,
  shortTime: (instant) => utcTime(instant).slice(0, 5),
  offset: dayOfPeriod,
  offsetMs: () => 0,
  weekdays: [1, 2, 3, 4, 5, 6, 7].map((first) => ({ long: `day ${first}, ${first + 7}…`, short: `${first}, ${first + 7}…` })),
  weekday: (instant) => (((dayNumber(instant) - 1) % DAYS_A_WEEK) + DAYS_A_WEEK) % DAYS_A_WEEK,
  hour: (instant) => new Date(instant).getUTCHours(),
};

function dayOfPeriod(instant: number): string {
  return `day ${String(dayNumber(instant)).replace("-", "−")}`;
}

function dayNumber(instant: number): number {
  return Math.floor((instant - NEUTRAL_DAY_ONE) / DAY_MS) + 1;
}

function utcTime(instant: number): string {
  return new Date(instant).toISOString().slice(11, 19);
}
