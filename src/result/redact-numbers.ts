import type { Interval } from "../ground/intervals.js";
import { HOUR_MS, HOURS_PER_DAY, MINUTE_MS } from "../ground/units.js";
import type { Covers } from "./cover.js";
import type { Place } from "./visit-texts.js";
import { NEUTRAL_DAY_ONE, type GridClock } from "./redact-clock.js";

/** A number to so many significant figures. */
export function figures(value: number, count: number): number {
  return Number(value.toPrecision(count));
}

/** Which way a bound may be rounded, so that the rounded one claims no more; null for what is no bound. */
function boundSide({ key, holder }: Place): "up" | "down" | null {
  const is = (field: string, end: RegExp): boolean => typeof holder[field] === "string" && end.test(holder[field]);
  if (/Upper$|^(?:high|bound|byCounting|byDesign|byChance|byCommonCause)$/.test(key) || (key === "perYear" && is("side", /^at most$/)) || (key === "measured" && is("code", /upper-bound$|^by-design$/))) return "up";
  if (/Lower$|^(?:low|breakEven)$/.test(key) || (key === "perYear" && is("side", /^at least$/)) || (key === "measured" && is("code", /lower-bound$/))) return "down";
  return null;
}

/** A number to so many significant figures, rounded up or down; to the nearest where no way is given. */
export function figuresTowards(value: number, count: number, side: "up" | "down" | null): number {
  const nearest = figures(value, count);
  if (side === null || nearest === value || value === 0) return nearest;
  if (side === "up" ? nearest > value : nearest < value) return nearest;
  const step = 10 ** (Math.floor(Math.log10(Math.abs(value))) + 1 - count);
  return figures(nearest + (side === "up" ? step : -step), count + 1);
}

/** Counts of rows and readings come by the clock: beyond two figures they would tell the length of the period to the hour. */
export function roughCount(count: number): number {
  return count < 100 ? count : figures(count, 2);
}

/** Amounts of time that add up over the period; not those of a month of 30 days. */
const amountOfTime = /(?:^|\.)(?:\w*[hH]ours|hoursAt\w*|years\w*|jointDays|longest\w*)(?:\.|$)/;
const ofThirtyDays = /^cost\.|hoursPerMonth/;
const aRate = /[pP]er(?:Year|Month|30Days)|\.claims\.by|(?:^|\.)bounds\.wrong|\.design\.figures\.(?:bound|by|breakEven)|expectedUnverified/;
/** Shares of the period itself: taken to four figures over its days they would tell an hour more or less. */
const shareOfPeriod = /(?:known|occupied|home|blind|unclear|unclearDays)Share$|inPractice\.sets\.share$/;
const metres = /[mM]etres|histogram|mixture|looks|\.chart\.|\.points|present|suggested|movedReading/;
const written = /^site\.|^period\.|(?:^|\.)limit$/;

/**
 * A number of the findings, so that it does not tell whether the period had an hour more or less than its days: amounts of
 * time are taken as if it had not, and they and rates have two figures. The others have four (metres five): more would tell
 * over how many milliseconds a share was taken. Whole numbers are kept, except counts of readings. `scale`: the
 * length of the days over the real length of the period. Shares of the period have two figures, of what is missing to the whole if that is less.
 */
export function roughNumber(value: number, place: Place, scale: number): number {
  const { path, key, holder } = place;
  const side = boundSide(place);
  if (written.test(path)) return value;
  if (path.includes("cumulated.periods.") && key === "yearsSeen") return figures(value, 1);
  if (amountOfTime.test(path) && !ofThirtyDays.test(path)) return figures(value * scale, 2);
  if (Number.isInteger(value)) return /(?:^|\.)(?:readings|noEcho|counts)$/.test(path) ? roughCount(value) : value;
  if (shareOfPeriod.test(path)) return figures(value > 0.5 ? 1 - figures(1 - value, 2) : figures(value, 2), 4);
  if (key === "exposure") return figures(value * scale, 2);
  const isOverTime = typeof holder["exposure"] === "number" && !Number.isInteger(holder["exposure"]);
  if (isOverTime || aRate.test(path) || (typeof holder["unit"] === "string" && holder["unit"].startsWith("per "))) return figuresTowards(value, 2, side);
  return figuresTowards(value, metres.test(path) ? 5 : 4, side);
}

/** How often each hour of the day is in a stretch of local time, in hours. */
function hoursOfDay({ from, to }: Interval, offsetMs: (instant: number) => number): number[] {
  const stepMs = 15 * MINUTE_MS;
  const hours = Array.from({ length: HOURS_PER_DAY }, () => 0);
  for (let at = from; at < to; at += stepMs) {
    const hour = Math.floor((at + offsetMs(at)) / HOUR_MS) % HOURS_PER_DAY;
    hours[hour] = (hours[hour] ?? 0) + Math.min(stepMs, to - at) / HOUR_MS;
  }
  return hours;
}

/** The covers of rules, without what tells the weekday of day 1 (the counts of weekdays begin with its own) or a day with an hour too many or too few. */
export function makeCoversRedacted(period: Interval, clock: GridClock): (covers: Covers) => Covers {
  const real = hoursOfDay(period, clock.offsetMs);
  const [from, to] = [clock.moved(period.from), clock.moved(period.to)];
  const told = hoursOfDay({ from: from - NEUTRAL_DAY_ONE, to: to - NEUTRAL_DAY_ONE }, () => 0);
  return (covers) => ({
    ...covers,
    weekdays: covers.weekdays.map((_, i) => covers.weekdays[(i + clock.firstWeekday - 1) % covers.weekdays.length] ?? 0),
    confirmedHours: covers.confirmedHours.map((hours, i) => figures(Math.min(covers.days, (hours * (told[i] ?? 0)) / (real[i] || 1)), 2)),
  });
}
