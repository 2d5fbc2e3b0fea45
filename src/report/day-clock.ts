import { NEUTRAL_DAY_ONE } from "../result/redact-days.js";
import type { LocalClock } from "./local-time.js";
import { DAY_MS } from "../ground/units.js";

const DAYS_A_WEEK = 7;

/** A clock for a redacted result: days are counted from the first one, times of day are the site's own. */
export const dayClock: LocalClock = {
  zone: "the site’s own; dates are told as days of the period",
  moment: (instant) => `${day(instant)}, ${time(instant)}`,
  day,
  time,
  shortTime: (instant) => time(instant).slice(0, 5),
  offset: day,
  offsetMs: () => 0,
  weekdays: [1, 2, 3, 4, 5, 6, 7].map((first) => ({ long: `day ${first}, ${first + 7}…`, short: `${first}, ${first + 7}…` })),
  weekday: (instant) => (((dayNumber(instant) - 1) % DAYS_A_WEEK) + DAYS_A_WEEK) % DAYS_A_WEEK,
  hour: (instant) => new Date(instant).getUTCHours(),
};

function day(instant: number): string {
  return `day ${String(dayNumber(instant)).replace("-", "−")}`;
}

function dayNumber(instant: number): number {
  return Math.floor((instant - NEUTRAL_DAY_ONE) / DAY_MS) + 1;
}

function time(instant: number): string {
  return new Date(instant).toISOString().slice(11, 19);
}
