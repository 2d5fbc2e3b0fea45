import { durationText } from "../ground/duration.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../ground/units.js";
import { NEUTRAL_DAY_ONE, type GridClock } from "./redact-clock.js";
import { figuresTowards, roughCount } from "./redact-numbers.js";

/** A day this far from the period may be one that is known, such as that of a clock that was not set, and would tell all the others. Our own choice. */
const FAR_MS = 90 * DAY_MS;
const DAYS_A_WEEK = 7;

/** What prose is told by. */
export interface ProseDays {
  readonly clock: GridClock;
  /** The period's last instant, epoch milliseconds. */
  readonly periodTo: number;
  /** All instants that the result tells. */
  readonly told: readonly number[];
}

const months = "Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|Sep(?:tember)?|Oct(?:ober)?|Nov(?:ember)?|Dec(?:ember)?";
const weekdays = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const stamp = /(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d:\d\d(?::\d\d)?)(?:\.\d+)? ?(Z|[+-]\d\d:?\d\d)?)?/g;
const monthOnly = /(?<![\d-])(\d{4})-(\d\d)(?![\d-])/g;
const monthAndYear = new RegExp(`\\b(${months}) (\\d{4})\\b`, "g");
const writtenOut = new RegExp(`(?:(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]* )?\\b(\\d{1,2}) (${months})\\b(?: (\\d{4}))?`, "g");
const weekday = new RegExp(`\\b(${weekdays.join("|")})s?\\b`, "g");
const zone = /\b(?:Africa|America|Antarctica|Arctic|Asia|Atlantic|Australia|Europe|Indian|Pacific|Etc)\/[\w/+-]+|(?<=\bzone: ?"?)[A-Z][\w/+-]*|\bUTC ?[+−-]\d[\d:]*/g;
const bareTime = /(?<!\d[T ])(?<![\d:])\d\d:\d\d(?::\d\d)?(?![\d:])(?! ?[+-]\d\d:?\d\d)/g;
const timeToTime = /(from (?:day (−?\d+) )?(\d\d:\d\d(?::\d\d)?) to (?:day (−?\d+) )?(\d\d:\d\d(?::\d\d)?)) \((\d[^)]*)\)/g;

/**
 * Prose with every date in it told by its day, every month by its number, every weekday by the days of the period that
 * fall on it; without time zones. Days more than 90 days before or after the period are called long before or long after. Times of day
 * stay the site's own, but agree with the instants where the clocks changed, and so do lengths that stand behind a stretch of time: `isNear` says whether
 * the text is about such a night. Rates and counts of readings have two figures, as everywhere in the result.
 */
export function proseInDays({ clock, periodTo, told }: ProseDays): (text: string, isNear: boolean) => string {
  const { firstDay } = clock;
  const lastDay = Math.max(firstDay, clock.moved(periodTo) - NEUTRAL_DAY_ONE + firstDay);
  const [year0, month0] = [new Date(firstDay).getUTCFullYear(), new Date(firstDay).getUTCMonth()];
  const isFar = (day: number): boolean => day < firstDay - FAR_MS || day > lastDay + FAR_MS;
  const dayOf = (day: number): string => (isFar(day) ? `a day long ${day < firstDay ? "before" : "after"}` : `day ${Math.floor((day - firstDay) / DAY_MS) + 1}`);
  const toldInstant = (ms: number, withSeconds: boolean): string => `${dayOf(ms - NEUTRAL_DAY_ONE + firstDay)} ${timeOf(ms, withSeconds)}`;
  const monthNumber = (year: number, month: number): string => `month ${year * 12 + month - (year0 * 12 + month0)}`;
  const monthIndex = (name: string): number => "janfebmaraprmayjunjulaugsepoctnovdec".indexOf(name.slice(0, 3).toLowerCase()) / 3;
  /** A day written without its year is the one nearest to the period's first. */
  const dateOf = (year: string | undefined, month: number, day: number): number =>
    (year === undefined ? [year0 - 1, year0, year0 + 1] : [Number(year)])
      .map((one) => Date.UTC(one, month, day))
      .reduce((best, one) => (Math.abs(one - firstDay) < Math.abs(best - firstDay) ? one : best));
  const daysOn = (name: string): string => {
    const first = ((weekdays.indexOf(name) + 1 - clock.firstWeekday + DAYS_A_WEEK) % DAYS_A_WEEK) + 1;
    return `day ${first}, ${first + DAYS_A_WEEK}…`;
  };
  const near = told.filter(clock.isNearChange);
  const changeDays = new Set(near.map((instant) => Math.floor((instant + clock.offsetMs(instant)) / DAY_MS) * DAY_MS).map(dayOf));
  const movedTimes = new Map(near.flatMap((instant) => [true, false].map((withSeconds) => [timeOf(instant + clock.offsetMs(instant), withSeconds), timeOf(clock.moved(instant), withSeconds)] as const)));
  return (text, isNear) => {
    const dated = text.replace(writtenOut, (_, day: string, month: string, year?: string) => dayOf(dateOf(year, monthIndex(month), Number(day))));
    const isOfNight = isNear || [...changeDays].some((day) => new RegExp(`\\b${day}\\b`).test(dated));
    return (isOfNight ? dated.replace(bareTime, (time) => movedTimes.get(time) ?? time) : dated)
      .replace(stamp, (found, year: string, month: string, day: string, time?: string, offset?: string) => {
        if (time !== undefined && offset !== undefined) {
          const instant = Date.parse(`${year}-${month}-${day}T${time}${offset}`);
          if (!Number.isNaN(instant)) return toldInstant(clock.moved(instant), time.length > 5);
        }
        const date = Date.UTC(Number(year), Number(month) - 1, Number(day));
        return Number.isNaN(date) ? found.replace(/\d/g, "·") : `${dayOf(date)}${time === undefined ? "" : ` ${time}`}`;
      })
      .replace(monthOnly, (found, year: string, month: string) => (Number(month) >= 1 && Number(month) <= 12 ? monthNumber(Number(year), Number(month)) : found))
      .replace(monthAndYear, (_, month: string, year: string) => monthNumber(Number(year), monthIndex(month) + 1))
      .replace(weekday, (_, name: string) => daysOn(name))
      .replace(zone, "a time zone")
      .replace(timeToTime, (found: string, stretch: string, fromDay: string | undefined, from: string, toDay: string | undefined, to: string, length: string) => agreeing(found, stretch, dayMs(toDay, to) - dayMs(fromDay, from), length))
      .replace(/(\b(?:at most|up to|better than|at least|more than) )?\b(\d[\d,]*(?:\.\d+)?)(?= (?:wrong )?a (?:year|month)\b)/g, (_, bound: string | undefined, number: string) => {
        const side = bound === undefined ? null : /least|more/.test(bound) ? "down" : "up";
        return `${bound ?? ""}${figuresTowards(Number(number.replaceAll(",", "")), 2, side)}`;
      })
      .replace(/\b(\d[\d,]*) (readings\b|rows were set aside)/g, (_, count: string, what: string) => `${roughCount(Number(count.replaceAll(",", "")))} ${what}`);
  };
}

function timeOf(ms: number, withSeconds: boolean): string {
  return new Date(ms).toISOString().slice(11, withSeconds ? 19 : 16);
}

function dayMs(day: string | undefined, time: string): number {
  const [hours = 0, minutes = 0, seconds = 0] = time.split(":").map(Number);
  return Number((day ?? "0").replace("−", "-")) * DAY_MS + hours * HOUR_MS + minutes * MINUTE_MS + seconds * SECOND_MS;
}

/** A stretch of time and its length in the writing it had, but as its ends have it: whole days apart where no days are told. */
function agreeing(found: string, stretch: string, apartMs: number, length: string): string {
  const parts = [...length.matchAll(/(\d+(?:\.\d+)?) (days?|d|h|min|s)(?= |$)/g)];
  const saidMs = parts.reduce((sum, [, amount, unit = "s"]) => sum + Number(amount) * (unitMs[unit] ?? 0), 0);
  if (parts.length === 0) return found;
  const days = stretch.includes("day ") ? 0 : Math.round((saidMs - apartMs) / DAY_MS);
  const ms = apartMs + days * DAY_MS;
  // Not by a clock change: a minute that was cut off, or two other times.
  if (Math.abs(ms - saidMs) < 10 * MINUTE_MS || Math.abs(ms - saidMs) > 2 * HOUR_MS || ms < 0) return found;
  if (length.endsWith("days")) return `${stretch} (${Number((ms / DAY_MS).toFixed(1))} days)`;
  if (parts.length === 1 && length.endsWith(" h")) return `${stretch} (${Math.round(ms / HOUR_MS)} h)`;
  return `${stretch} (${durationText(ms)})`;
}

const unitMs: Readonly<Record<string, number>> = { day: DAY_MS, days: DAY_MS, d: DAY_MS, h: HOUR_MS, min: MINUTE_MS, s: SECOND_MS };
