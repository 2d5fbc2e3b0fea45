import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import { DAY_MS, HOURS_PER_DAY, MINUTE_SECONDS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import type { SensorFinding } from "../../result/sensors.js";
import type { DaySubject, TypicalDay } from "../../result/typical-day.js";
import type { Site } from "../../site/site.js";
import { medianOf } from "../../statistics/median.js";
import { OFF, ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";

/** Less than a week shows no typical day. */
const LEAST_DAYS = 7;
/** More subjects than this do not fit one picture. Our own choice. */
const MOST_SUBJECTS = 8;
/** A usual time is a median: of five weekdays at least, and of half of all. Our own choice. */
const LEAST_USUAL_DAYS = 5;
const HALF_HOURS = 2 * HOURS_PER_DAY;
const SATURDAY = 6;
/** The half-hour that begins at three: the middle of the night. */
const NIGHT = 6;

interface LocalDay {
  readonly isWeekend: boolean;
  /** The instants at which its half-hours begin, and the one at which it ends. In an hour that is skipped they are equal. */
  readonly bounds: readonly number[];
}

/**
 * People's and vehicles' presence by local half-hour, by what most likely happened; of more than fit, those whose
 * sensors most need looking after (`sensors` is in that order). Null below a week, and where nothing is known of anybody.
 */
export function typicalDay(site: Pick<Site, "subjects" | "timeZone">, book: ReferenceBook, period: Interval, sensors: readonly SensorFinding[]): TypicalDay | null {
  if (period.to - period.from < LEAST_DAYS * DAY_MS) return null;
  const place = (id: string): number => sensors.findIndex(({ subject }) => subject === id);
  const people = site.subjects.filter((one) => one.class !== "door" && place(one.id) >= 0);
  const shown = new Set(people.toSorted((a, b) => place(a.id) - place(b.id)).slice(0, MOST_SUBJECTS));
  const days = localDays(period, site.timeZone);
  const subjects = ["person", "bay"]
    .flatMap((sort) => people.filter((one) => one.class === sort && shown.has(one)))
    .map((one) => subjectDay(one, book(one.id, []).timeline, days))
    .filter(({ weekdays, weekends }) => [...weekdays.halfHours, ...weekends.halfHours].some((share) => share !== null));
  return subjects.length === 0 ? null : { subjects, leftOut: people.length - shown.size };
}

function localDays({ from, to }: Interval, timeZone: string): LocalDay[] {
  const days: LocalDay[] = [];
  for (let day = DateTime.fromMillis(from, { zone: zoneOf(timeZone) }).startOf("day"); day.toMillis() < to; day = day.plus({ days: 1 })) {
    const bounds = Array.from({ length: HALF_HOURS }, (_, n) => day.set({ hour: Math.floor(n / 2), minute: (n % 2) * 30 }).toMillis());
    days.push({ isWeekend: day.weekday >= SATURDAY, bounds: [...bounds, day.plus({ days: 1 }).toMillis()] });
  }
  return days;
}

function subjectDay({ id, class: subjectClass }: Site["subjects"][number], timeline: Timeline, days: readonly LocalDay[]): DaySubject {
  const [weekdays, weekends] = [false, true].map((isWeekend) => days.filter((day) => day.isWeekend === isWeekend)) as [LocalDay[], LocalDay[]];
  const onWeekdays = sharesOf(timeline, weekdays);
  return { subject: id, class: subjectClass, weekdays: onWeekdays, weekends: sharesOf(timeline, weekends), usual: usualTimes(timeline, weekdays, onWeekdays) };
}

function sharesOf(timeline: Timeline, days: readonly LocalDay[]): DaySubject["weekdays"] {
  const [on, known] = [new Float64Array(HALF_HOURS), new Float64Array(HALF_HOURS)];
  for (const { bounds } of days) {
    for (const { from, to, state } of stepsWithin(timeline, bounds[0] ?? 0, bounds.at(-1) ?? 0)) {
      if (state === UNKNOWN) continue;
      for (let n = 0; n < HALF_HOURS; n += 1) {
        const ms = Math.min(to, bounds[n + 1] ?? 0) - Math.max(from, bounds[n] ?? 0);
        if (ms <= 0) continue;
        known[n] = (known[n] ?? 0) + ms;
        if (state === ON) on[n] = (on[n] ?? 0) + ms;
      }
    }
  }
  return { days: days.length, halfHours: Array.from(known, (ms, n) => (ms === 0 ? null : Math.round((1000 * (on[n] ?? 0)) / ms) / 1000)) };
}

/** Who is there in the middle of the night leaves first and comes back; who is not comes first and leaves. */
function usualTimes(timeline: Timeline, days: readonly LocalDay[], { halfHours }: DaySubject["weekdays"]): DaySubject["usual"] {
  const way = (halfHours[NIGHT] ?? 0) >= 0.5 ? "away" : "visits";
  const [firstTo, lastTo] = way === "away" ? [OFF, ON] : [ON, OFF];
  const told = days.flatMap(({ bounds }) => {
    const start = bounds[0] ?? 0;
    const steps = stepsWithin(timeline, start, bounds.at(-1) ?? 0);
    const turns = steps.filter(({ state }, n) => n > 0 && state !== UNKNOWN && steps[n - 1]?.state === (state === ON ? OFF : ON));
    const [first, last] = [turns.find(({ state }) => state === firstTo), turns.findLast(({ state }) => state === lastTo)];
    return first === undefined || last === undefined || last.from < first.from ? [] : [[minuteOf(first.from, bounds), minuteOf(last.from, bounds)] as const];
  });
  const [first, second] = [medianOf(told.map(([one]) => one)), medianOf(told.map(([, other]) => other))];
  if (first === null || second === null || told.length < LEAST_USUAL_DAYS || 2 * told.length < days.length) return null;
  return { way, first: Math.round(first), second: Math.round(second), days: told.length };
}

/** Minutes since local midnight, by the wall clock. */
function minuteOf(instant: number, bounds: readonly number[]): number {
  const n = Math.max(0, bounds.findLastIndex((bound) => bound <= instant));
  return (n * MINUTE_SECONDS) / 2 + (instant - (bounds[n] ?? 0)) / (MINUTE_SECONDS * 1000);
}

interface Step extends Interval {
  readonly state: number;
}

/** The steps within a day, cut to it. */
function stepsWithin({ times, states, end }: Timeline, from: number, to: number): Step[] {
  const found: Step[] = [];
  for (let i = 0; i < times.length; i += 1) {
    const [start, stop] = [times[i] ?? end, times[i + 1] ?? end];
    if (stop <= from || start >= to) continue;
    found.push({ from: Math.max(start, from), to: Math.min(stop, to), state: states[i] ?? UNKNOWN });
  }
  return found;
}
