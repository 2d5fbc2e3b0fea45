import { greatest, group, range } from "d3-array";
import { difference, during, intersection, totalMs, type Interval } from "../../ground/intervals.js";
import { firstWhere } from "../../ground/search.js";
import { HOUR_MS, HOURS_PER_DAY } from "../../ground/units.js";
import { stateWords } from "../../site/state-words.js";
import type { SubjectTime } from "../../intake/diary-corrections.js";
import type { Site } from "../../site/site.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON } from "../../timeline/timeline.js";
import type { Draft } from "./event-questions.js";
import type { Frame } from "./frames.js";
import type { LocalWords } from "./local-words.js";
import type { Movement } from "./movements.js";

/** Fewer nights than this are asked one by one. Our own choice. */
const FEWEST_NIGHTS = 3;
/** In an hour of a routine the person's own sensors say one state for at least this share of the time. Our own choice. */
const MOSTLY = 0.8;

/** The hours of a routine: from 0 to 23, and the end after it, up to 47. */
interface Hours {
  readonly from: number;
  readonly to: number;
}

/** A routine question and the frames that it stands for. */
export interface Routine {
  readonly draft: Draft;
  readonly frames: readonly Frame[];
}

/** What routine questions are made from. */
export interface RoutineContext {
  readonly site: Site;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly period: Interval;
  readonly words: LocalWords;
  readonly written: ReadonlyMap<string, readonly Interval[]>;
  /** Whether somebody was asked about just that time, and did not know or excepted it. */
  readonly wasAsked: (time: SubjectTime) => boolean;
  /** Everything that moved, in time order. */
  readonly movements: readonly Movement[];
}

/**
 * One question for all frames of a person on three nights or more that lie in hours in which the person is mostly at
 * home, or mostly out, by their own sensors, and in which no door and no bay moved: a phone alone came and went, most
 * likely by mistake. Where something else moved too, somebody may well have come, and is asked about that. Its hours are those of
 * such frames among `every`, rounded outward; its nights are those from the first of the frames `open` to the last, without those
 * asked about already.
 */
export function routineQuestions(every: readonly Frame[], open: readonly Frame[], context: RoutineContext): Routine[] {
  const moved = context.movements.filter((one) => one.class !== "person");
  const isQuiet = ({ from, to, class: subjectClass }: Frame): boolean => {
    if (subjectClass !== "person") return false;
    const next = moved[firstWhere(moved.length, (i) => (moved[i]?.at ?? Infinity) > from)];
    return next === undefined || next.at >= to;
  };
  const all = group(every.filter(isQuiet), (one) => one.subject);
  const hourly = hoursOfDays(context);
  return [...group(open.filter(isQuiet), (one) => one.subject)].flatMap(([subject, own]) => {
    if (own.length < FEWEST_NIGHTS) return [];
    const shares = sharesAtHome(subject, hourly, context);
    const theirs = all.get(subject) ?? [];
    return ([1, 0] as const).flatMap((state) =>
      runsOf(shares.map((share) => share !== null && (state === 1 ? share >= MOSTLY : share <= 1 - MOSTLY))).flatMap((run) => {
        const asked = shortened(run, (part) => hoursIn(theirs, part, context.words).length);
        const spans = hoursIn(theirs, asked, context.words).map(({ hours }) => hours);
        const hours = { from: Math.floor(Math.min(...spans.map(({ from }) => from))), to: Math.ceil(Math.max(...spans.map(({ to }) => to))) };
        const nights = nightsIn(own, asked, context.words).filter(({ night }) => !context.wasAsked({ subject, ...timeOf(night, hours, context) }));
        if (new Set(nights.map(({ night }) => night)).size < FEWEST_NIGHTS) return [];
        return [{ draft: routineQuestion(subject, state, hours, nights, context), frames: nights.map(({ frame }) => frame) }];
      }),
    );
  });
}

/** Each hour of each local day of the period, in order. */
interface HourOfDay extends Interval {
  readonly hour: number;
}

function hoursOfDays({ period, words }: RoutineContext): HourOfDay[] {
  const found: HourOfDay[] = [];
  for (let midnight = words.midnight(period.from); midnight < period.to; midnight = words.midnight(midnight, 1)) {
    const begins = range(HOURS_PER_DAY + 1).map((hour) => words.hourOf(midnight, hour));
    begins.slice(0, -1).forEach((from, hour) => found.push({ hour, from, to: begins[hour + 1] ?? from }));
  }
  return found;
}

/** For each hour of the day the share of the known time in which the person's own sensors say "here"; null where nothing is known. */
function sharesAtHome(subject: string, hourly: readonly HourOfDay[], { site, accounts }: RoutineContext): (number | null)[] {
  const own = site.signals.flatMap((one) => (one.subject === subject ? [accounts.get(one.id)?.account] : [])).filter((one) => one !== undefined);
  const here = own.map((one) => stretches(one, ON));
  const away = own.map((one) => stretches(one, OFF));
  const [hereMs, knownMs] = [new Array<number>(HOURS_PER_DAY).fill(0), new Array<number>(HOURS_PER_DAY).fill(0)];
  for (const { hour, from, to } of hourly) {
    const msOf = (lists: readonly (readonly Interval[])[]): number => lists.reduce((sum, list) => sum + totalMs(intersection([{ from, to }], during(list, from, to))), 0);
    const on = msOf(here);
    hereMs[hour] = (hereMs[hour] ?? 0) + on;
    knownMs[hour] = (knownMs[hour] ?? 0) + on + msOf(away);
  }
  return knownMs.map((known, hour) => (known < HOUR_MS ? null : (hereMs[hour] ?? 0) / known));
}

/** The longest runs of hours that are so, around the clock. */
function runsOf(so: readonly boolean[]): Hours[] {
  if (so.every(Boolean)) return [{ from: 12, to: 12 + HOURS_PER_DAY }];
  const at = (hour: number): boolean => so[hour % HOURS_PER_DAY] === true;
  return range(HOURS_PER_DAY).filter((hour) => at(hour) && !at(hour + HOURS_PER_DAY - 1)).map((from) => ({ from, to: from + range(1, HOURS_PER_DAY).findIndex((more) => !at(from + more)) + 1 }));
}

/** Nobody's habit is longer. Our own choice: a night. */
const LONGEST_HOURS = 10;

/** The run itself, or the {@link LONGEST_HOURS} of a longer one with most in them. */
function shortened(run: Hours, countIn: (part: Hours) => number): Hours {
  if (run.to - run.from <= LONGEST_HOURS) return run;
  const parts = range(run.from, run.to - LONGEST_HOURS + 1).map((from) => ({ from, to: from + LONGEST_HOURS }));
  return greatest(parts, countIn) ?? run;
}

/** A frame that lies within the hours of a routine. */
interface InHours {
  readonly frame: Frame;
  /** The day on which the hours began, counted from the frame's: 0 or -1. */
  readonly days: number;
  /** The frame's own, since the beginning of that day. */
  readonly hours: Hours;
}

function hoursIn(frames: readonly Frame[], run: Hours, words: LocalWords): InHours[] {
  return frames.flatMap((frame) =>
    [0, -1].flatMap((days) => {
      const begin = words.hour(frame.from) - days * HOURS_PER_DAY;
      const hours = { from: begin, to: begin + (frame.to - frame.from) / HOUR_MS };
      return hours.from >= run.from && hours.to <= run.to ? [{ frame, days, hours }] : [];
    }),
  );
}

/** Such a frame with the midnight at the beginning of the day on which the hours began. */
interface Night {
  readonly frame: Frame;
  readonly night: number;
}

function nightsIn(frames: readonly Frame[], run: Hours, words: LocalWords): Night[] {
  return hoursIn(frames, run, words).map(({ frame, days }) => ({ frame, night: words.midnight(frame.from, days) }));
}

/** The hours of one night, within the period. */
function timeOf(midnight: number, hours: Hours, { words, period }: Pick<RoutineContext, "words" | "period">): Interval {
  return { from: Math.max(period.from, words.hourOf(midnight, hours.from)), to: Math.min(period.to, words.hourOf(midnight, hours.to)) };
}

function routineQuestion(subject: string, state: 0 | 1, hours: Hours, found: readonly Night[], context: RoutineContext): Draft {
  const { words, written, wasAsked } = context;
  const [first, last] = [Math.min(...found.map(({ night }) => night)), Math.max(...found.map(({ night }) => night))];
  const nights: (Interval & { readonly midnight: number })[] = [];
  for (let midnight = first; midnight <= last; midnight = words.midnight(midnight, 1)) {
    const time = timeOf(midnight, hours, context);
    if (time.from < time.to) nights.push({ midnight, ...time });
  }
  const told = written.get(subject) ?? [];
  const open = nights.filter(({ from, to }) => difference([{ from, to }], told).length > 0 && !wasAsked({ subject, from, to }));
  const crosses = hours.to > HOURS_PER_DAY;
  const each = crosses ? "night" : "day";
  const clock = (hour: number): string => `${String(hour % HOURS_PER_DAY).padStart(2, "0")}:00`;
  const word = stateWords.person[state === 1 ? "on" : "off"];
  const says = (midnight: number): string => (crosses ? `the night from ${words.day(midnight)} to ${words.date(words.midnight(midnight, 1))}` : words.day(midnight));
  return {
    id: `${subject} ${each}s ${clock(hours.from)}-${clock(hours.to)}`,
    sort: "routine",
    wording: () => ({
      text: `Was ${subject} ${state === 1 ? "at home" : "out"} every ${each} from ${clock(hours.from)} to ${clock(hours.to)}, from ${words.day(first)} to ${words.day(crosses ? words.midnight(last, 1) : last)}?`,
      answers: [
        { says: `Yes, or all but some ${each}s, which I name next`, rows: open.flatMap((night) => difference([{ from: night.from, to: night.to }], told)).map((row) => ({ subject, state: word, ...row })) },
        // Nothing is learnt from it; the rows say that it was asked. Single times are asked about then.
        { says: `No, most ${each}s were different`, rows: open.map(({ from, to }) => ({ subject, state: "", from, to })) },
      ],
    }),
    days: open.map(({ midnight, from, to }) => ({ says: says(midnight), from, to })),
    // Who does not know is not asked about the single times either.
    about: [...open, ...found.map(({ frame }) => frame)].map(({ from, to }) => ({ subject, from, to })),
    around: { from: Math.min(...nights.map(({ from }) => from)), to: Math.max(...nights.map(({ to }) => to)) },
    again: false,
    moved: true,
  };
}
