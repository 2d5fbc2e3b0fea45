import { DateTime } from "luxon";
import { zoneOf } from "../ground/zone.js";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { localDayStart } from "./local-instant.js";
import type { Readings } from "./readings.js";
import { makeStampReader } from "./stamp.js";
import { APART_MS, readingsWithin, timeParts, type TimePart } from "./time-parts.js";
import type { Site } from "../site/site.js";
import { DAY_MS, HOUR_MS } from "../ground/units.js";
import type { Interval } from "../ground/intervals.js";

/** The period as asked for: a local month, local days or instants, or everything the exports hold. */
export type AskedPeriod =
  | { readonly form: "all" }
  | { readonly form: "month"; readonly month: string }
  | { readonly form: "range"; readonly from: string | null; readonly to: string | null };

/** A period as a program may give it: plain text is a month, nothing is everything. */
export function askedPeriod(period: string | AskedPeriod = { form: "all" }): AskedPeriod {
  return typeof period === "string" ? { form: "month", month: period } : period;
}

/** What messages call the three ways of naming a period: the library's words, or those of whoever asks the user. */
export interface PeriodNames {
  readonly month: string;
  readonly from: string;
  readonly to: string;
}

const libraryNames: PeriodNames = { month: "`period`", from: "`period.from`", to: "`period.to`" };

/** The period as audited, its folder name, and what the reader must know about it. */
export interface SettledPeriod {
  readonly period: Interval;
  readonly label: string;
  readonly notes: readonly string[];
  /** The readings of the stretch of time that the period lies in: all, but for those of a clock that was not set or of another time. */
  readonly readings: ReadonlyMap<string, Readings>;
}

/**
 * Readings may begin or end this much inside the asked period before it is cut to them. Shorter than any stretch
 * that matters for a rate, longer than the usual time between readings. Common practice, no source.
 */
const EDGE_MS = HOUR_MS;

/**
 * Checks, before any export is read, that an asked period can be understood. Throws `InputError` in the words of `names`
 * for what is no month or no time, and for an end before the begin.
 */
export function checkPeriod(site: Site, asked: AskedPeriod, names: PeriodNames = libraryNames): void {
  askedBounds(site, asked, names);
}

/**
 * Chooses the stretch of time to audit. It never reaches beyond the readings, nor over months without any: time without
 * data would count as time without a fault. Throws `InputError` when the asked period is not readable or holds no readings.
 */
export function settlePeriod(site: Site, readings: ReadonlyMap<string, Readings>, asked: AskedPeriod): SettledPeriod {
  const parts = timeParts(readings.values());
  const open = askedBounds(site, asked, libraryNames);
  const covered = mainPart(parts, site, open);
  const wanted = { from: Number.isFinite(open.from) ? open.from : covered.from, to: Number.isFinite(open.to) ? open.to : covered.to };
  const period = {
    from: covered.from > wanted.from + EDGE_MS ? covered.from : wanted.from,
    to: covered.to < wanted.to - EDGE_MS ? covered.to : wanted.to,
  };
  if (period.from >= period.to) {
    throw new InputError([
      {
        code: "period-empty",
        what: "There are no readings in the period asked for",
        file: site.file,
        expected: expectedText(open, site.timeZone),
        found: `readings from ${localText(covered.from, site.timeZone)} to ${localText(covered.to, site.timeZone)}`,
        mend: "name another period, or add the export files of that period to the site file",
      },
    ]);
  }
  const notes = apartNotes(parts.filter((part) => part !== covered && touches(part, open)), site.timeZone);
  if (period.from !== wanted.from) notes.push(`The readings begin at ${localText(period.from, site.timeZone)}: the time before that is not part of this audit.`);
  if (period.to !== wanted.to) notes.push(`The readings end at ${localText(period.to, site.timeZone)}: the time after that is not part of this audit.`);
  return { period, label: asked.form === "month" ? asked.month : labelOf(wanted, asked, site.timeZone), notes, readings: parts.length === 1 ? readings : readingsWithin(readings, covered) };
}

/**
 * The stretch of readings that is meant: of those that the asked period touches, the one it covers longest; if an end was
 * left open, the one with most readings. The others are a clock that was not set, or another time.
 */
function mainPart(parts: readonly TimePart[], site: Site, asked: Interval): TimePart {
  const touched = parts.filter((part) => touches(part, asked));
  const worth = (part: TimePart): number => (Number.isFinite(asked.to - asked.from) ? Math.min(part.to, asked.to) - Math.max(part.from, asked.from) : part.count);
  const main = (touched.length > 0 ? touched : parts).reduce<TimePart | null>((best, part) => (best === null || worth(part) > worth(best) ? part : best), null);
  if (main === null) {
    throw new InputError([
      { code: "period-empty", what: "The exports hold no readable reading", file: site.file, mend: "look at why the rows were set aside: `keyworthy check` lists the reasons" },
    ]);
  }
  if (main.from === main.to) {
    throw new InputError([
      { code: "period-empty", what: "All readings of that time are of the same moment", file: site.file, expected: "readings over some time", found: `${main.count === 1 ? "one" : main.count} at ${localText(main.from, site.timeZone)}`, mend: "look at how the time stamps are written, or export a longer time" },
    ]);
  }
  return main;
}

/** The calendar month that was asked for, if it is over; null otherwise. */
export function askedMonth(site: Site, asked: AskedPeriod, now: number): Interval | null {
  if (asked.form !== "month") return null;
  const month = askedBounds(site, asked, libraryNames);
  return month.to <= now ? month : null;
}

function touches(part: TimePart, asked: Interval): boolean {
  return part.from < asked.to && part.to >= asked.from;
}

/** The stretches of readings inside the asked period that are left out, and why. */
function apartNotes(others: readonly TimePart[], timeZone: string): string[] {
  return others.map((part) => `${apartText(part, timeZone)} and ${part.count === 1 ? "is" : "are"} not part of this audit: was a clock not set? If the time is right, audit it by itself with --from and --to.`);
}

/** `One reading of … lies more than 90 days from the others`, or `12 readings from … to … lie …`, in local time. */
export function apartText({ from, to, count }: TimePart, timeZone: string): string {
  const when = from === to ? `of ${localText(from, timeZone)}` : `from ${localText(from, timeZone)} to ${localText(to, timeZone)}`;
  return `${count === 1 ? `One reading ${when} lies` : `${count} readings ${when} lie`} more than ${APART_MS / DAY_MS} days from the others`;
}

/** The asked period in instants; an end that was left open is infinite. */
function askedBounds({ timeZone }: Site, asked: AskedPeriod, names: PeriodNames): Interval {
  switch (asked.form) {
    case "all":
      return { from: -Infinity, to: Infinity };
    case "month": {
      const parts = /^(\d{4})-(0[1-9]|1[0-2])$/.exec(asked.month);
      if (parts === null) throw new InputError([unreadable(`${names.month} ${asked.month} is not a month`, "a month such as 2026-10", asked.month)]);
      const [year, month] = [Number(parts[1]), Number(parts[2])];
      const [nextYear, nextMonth] = month === 12 ? [year + 1, 1] : [year, month + 1];
      return { from: localDayStart(year, month, 1, timeZone), to: localDayStart(nextYear, nextMonth, 1, timeZone) };
    }
    case "range": {
      const problems: ProblemParts[] = [];
      const from = asked.from === null ? -Infinity : boundary(names.from, asked.from, timeZone, problems);
      const to = asked.to === null ? Infinity : boundary(names.to, asked.to, timeZone, problems);
      if (problems.length === 0 && from >= to) {
        problems.push(unreadable("The period ends before it begins", `${names.from} earlier than ${names.to}`, `${names.from} ${asked.from ?? ""} ${names.to} ${asked.to ?? ""}`));
      }
      if (problems.length > 0) throw new InputError(problems);
      return { from, to };
    }
  }
}

function boundary(name: string, text: string, timeZone: string, problems: ProblemParts[]): number {
  const day = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (day !== null && DateTime.fromISO(text).isValid) return localDayStart(Number(day[1]), Number(day[2]), Number(day[3]), timeZone);
  // Our own reader, as for the exports: a local time that occurs twice means the first, whatever the date of today.
  const instant = makeStampReader({ written: "iso", zone: timeZone, skippedHour: "shift" }).read(text);
  if (Number.isFinite(instant) && /T|\s/.test(text)) return instant;
  problems.push(unreadable(`${name} ${text} is not a time`, "a day such as 2026-10-01, or a time such as 2026-10-01T06:00", text));
  return Number.NaN;
}

function unreadable(what: string, expected: string, found: string): ProblemParts {
  return { code: "period-unreadable", what, expected, found };
}

function labelOf({ from, to }: Interval, asked: AskedPeriod, timeZone: string): string {
  // The end of an asked range is not included; the last reading of the whole history is.
  const [first, last] = [localDate(from, timeZone), localDate(asked.form === "all" ? to : to - 1, timeZone)];
  return asked.form === "all" && first === last ? first : `${first}_${last}`;
}

/** An end that was left open is not named: any reading on that side would do. */
function expectedText({ from, to }: Interval, timeZone: string): string {
  if (!Number.isFinite(from)) return `readings before ${localText(to, timeZone)}`;
  return Number.isFinite(to) ? `readings between ${localText(from, timeZone)} and ${localText(to, timeZone)}` : `readings from ${localText(from, timeZone)} on`;
}

function localDate(instant: number, timeZone: string): string {
  return DateTime.fromMillis(instant, { zone: zoneOf(timeZone) }).toFormat("yyyy-MM-dd");
}

/** An instant as people of that zone write it, with the offset. */
export function localText(instant: number, timeZone: string): string {
  return DateTime.fromMillis(instant, { zone: zoneOf(timeZone) }).toFormat("yyyy-MM-dd HH:mm ZZ");
}
