import { DateTime } from "luxon";
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
 * Chooses the stretch of time to audit. It never reaches beyond the readings, nor over months without any: time without
 * data would count as time without a fault. Throws `InputError` when the asked period is not readable or holds no readings.
 */
export function settlePeriod(site: Site, readings: ReadonlyMap<string, Readings>, asked: AskedPeriod): SettledPeriod {
  const parts = timeParts(readings.values());
  const open = wantedPeriod(site, asked, { from: -Infinity, to: Infinity });
  const covered = mainPart(parts, site, open);
  const wanted = wantedPeriod(site, asked, covered);
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
        expected: `readings between ${localText(wanted.from, site.timeZone)} and ${localText(wanted.to, site.timeZone)}`,
        found: `readings from ${localText(covered.from, site.timeZone)} to ${localText(covered.to, site.timeZone)}`,
        mend: "name another period, or add the export files of that period to the site file",
      },
    ]);
  }
  const notes = apartNotes(parts.filter((part) => part !== covered && touches(part, open)), site.timeZone);
  if (period.from !== wanted.from) notes.push(`The readings begin at ${localText(period.from, site.timeZone)}: the time before that is not part of this audit.`);
  if (period.to !== wanted.to) notes.push(`The readings end at ${localText(period.to, site.timeZone)}: the time after that is not part of this audit.`);
  return { period, label: wanted.label, notes, readings: parts.length === 1 ? readings : readingsWithin(readings, covered) };
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
      { code: "period-empty", what: "The exports hold no readable reading", file: site.file, mend: "look at set-aside rows with `keyworthy check`, which says why each row was not used" },
    ]);
  }
  if (main.from === main.to) {
    throw new InputError([
      { code: "period-empty", what: "All readings of that time have one and the same instant", file: site.file, expected: "readings over some time", found: `${main.count === 1 ? "one" : main.count} at ${localText(main.from, site.timeZone)}`, mend: "look at how the time stamps are written, or export a longer time" },
    ]);
  }
  return main;
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

function wantedPeriod(site: Site, asked: AskedPeriod, covered: Interval): Interval & { readonly label: string } {
  switch (asked.form) {
    case "all": {
      const [first, last] = [localDate(covered.from, site.timeZone), localDate(covered.to, site.timeZone)];
      return { ...covered, label: first === last ? first : `${first}_${last}` };
    }
    case "month": {
      const parts = /^(\d{4})-(0[1-9]|1[0-2])$/.exec(asked.month);
      if (parts === null) {
        throw new InputError([commandLine(`--month ${asked.month} is not a month`, "a month such as 2026-10", asked.month)]);
      }
      const [year, month] = [Number(parts[1]), Number(parts[2])];
      const [nextYear, nextMonth] = month === 12 ? [year + 1, 1] : [year, month + 1];
      return { from: localDayStart(year, month, 1, site.timeZone), to: localDayStart(nextYear, nextMonth, 1, site.timeZone), label: asked.month };
    }
    case "range": {
      const problems: ProblemParts[] = [];
      const from = asked.from === null ? covered.from : boundary("--from", asked.from, site.timeZone, problems);
      const to = asked.to === null ? covered.to : boundary("--to", asked.to, site.timeZone, problems);
      if (problems.length === 0 && from >= to) {
        problems.push(commandLine("The period ends before it begins", "--from earlier than --to", `--from ${asked.from ?? "(first reading)"} --to ${asked.to ?? "(last reading)"}`));
      }
      if (problems.length > 0) throw new InputError(problems);
      return { from, to, label: `${localDate(from, site.timeZone)}_${localDate(to - 1, site.timeZone)}` };
    }
  }
}

function boundary(option: string, text: string, timeZone: string, problems: ProblemParts[]): number {
  const day = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (day !== null && DateTime.fromISO(text).isValid) return localDayStart(Number(day[1]), Number(day[2]), Number(day[3]), timeZone);
  // Our own reader, as for the exports: a local time that occurs twice means the first, whatever the date of today.
  const instant = makeStampReader({ written: "iso", zone: timeZone, skippedHour: "shift" }).read(text);
  if (Number.isFinite(instant) && /T|\s/.test(text)) return instant;
  problems.push(commandLine(`${option} ${text} is not a time`, "a day such as 2026-10-01, or a time such as 2026-10-01T06:00", text));
  return Number.NaN;
}

function commandLine(what: string, expected: string, found: string): ProblemParts {
  return { code: "command-line", what, expected, found };
}

function localDate(instant: number, timeZone: string): string {
  return DateTime.fromMillis(instant, { zone: timeZone }).toFormat("yyyy-MM-dd");
}

/** An instant as people of that zone write it, with the offset. */
export function localText(instant: number, timeZone: string): string {
  return DateTime.fromMillis(instant, { zone: timeZone }).toFormat("yyyy-MM-dd HH:mm ZZ");
}
