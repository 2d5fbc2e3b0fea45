import { DateTime } from "luxon";
import { DAY_MS, MINUTE_MS } from "../ground/units.js";

/** A day this far from the period may be one that is known, such as that of a clock that was not set, and would tell all the others. Our own choice. */
const FAR_MS = 90 * DAY_MS;

/** Day 1 of every redacted result. It is nobody's: the first day of a period is moved here, whatever its date and weekday. */
export const NEUTRAL_DAY_ONE = Date.UTC(2001, 0, 1);

/** How instants and dates are told once a result has been moved away from its dates. */
export interface Days {
  /** An instant, moved: day 1 begins at {@link NEUTRAL_DAY_ONE}; the time of day is the site's own at the beginning of the period. */
  readonly moved: (instant: number) => number;
  /** Prose with every date in it told by its day, and every month by its number. */
  readonly inText: (text: string) => string;
}

const months = "Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|Sep(?:tember)?|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?";
const stamp = /(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d:\d\d(?::\d\d)?)(?:\.\d+)? ?(Z|[+-]\d\d:?\d\d)?)?/g;
const monthOnly = /(?<![\d-])(\d{4})-(\d\d)(?![\d-])/g;
const monthAndYear = new RegExp(`\\b(${months}) (\\d{4})\\b`, "g");
const writtenOut = new RegExp(`(?:(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]* )?\\b(\\d{1,2}) (${months})(?: (\\d{4}))?`, "gi");

/**
 * Whole days are taken off every instant, so that distances stay as they were and times of day too; the weekday does not.
 * All instants keep the offset from UTC that the site had at the beginning: after a clock change, times of day are an hour off.
 * In prose, a day more than 90 days before or after the period is called long before or long after, without a number.
 */
export function daysFrom(periodFrom: number, timeZone: string, periodTo = periodFrom): Days {
  const local = DateTime.fromMillis(periodFrom, { zone: timeZone });
  const begin = local.isValid ? local : DateTime.fromMillis(periodFrom, { zone: "utc" });
  const firstDay = Date.UTC(begin.year, begin.month - 1, begin.day);
  const shift = NEUTRAL_DAY_ONE - firstDay + begin.offset * MINUTE_MS;
  const moved = (instant: number): number => instant + shift;
  const lastDay = firstDay + periodTo - periodFrom;
  const isFar = (day: number): boolean => day < firstDay - FAR_MS || day > lastDay + FAR_MS;
  const dayOf = (day: number): string => (isFar(day) ? `a day long ${day < firstDay ? "before" : "after"}` : `day ${Math.floor((day - firstDay) / DAY_MS) + 1}`);
  const toldInstant = (ms: number, withSeconds: boolean): string =>
    `${dayOf(ms - NEUTRAL_DAY_ONE + firstDay)} ${new Date(ms).toISOString().slice(11, withSeconds ? 19 : 16)}`;
  const monthNumber = (year: number, month: number): string => `month ${year * 12 + month - (begin.year * 12 + begin.month) + 1}`;
  return {
    moved,
    inText: (text) =>
      text
        .replace(stamp, (found, year: string, month: string, day: string, time?: string, zone?: string) => {
          if (time !== undefined && zone !== undefined) {
            const ms = moved(Date.parse(`${year}-${month}-${day}T${time}${zone}`));
            if (!Number.isNaN(ms)) return toldInstant(ms, time.length > 5);
          }
          const date = Date.UTC(Number(year), Number(month) - 1, Number(day));
          return Number.isNaN(date) ? found.replace(/\d/g, "·") : `${dayOf(date)}${time === undefined ? "" : ` ${time}`}`;
        })
        .replace(monthOnly, (found, year: string, month: string) => (Number(month) >= 1 && Number(month) <= 12 ? monthNumber(Number(year), Number(month)) : found))
        .replace(writtenOut, (_, day: string, month: string, year?: string) => {
          const index = "janfebmaraprmayjunjulaugsepoctnovdec".indexOf(month.slice(0, 3).toLowerCase()) / 3;
          return dayOf(Date.UTC(year === undefined ? begin.year : Number(year), index, Number(day)));
        })
        .replace(monthAndYear, (_, month: string, year: string) => monthNumber(Number(year), "janfebmaraprmayjunjulaugsepoctnovdec".indexOf(month.slice(0, 3).toLowerCase()) / 3 + 1)),
  };
}
