import { NEUTRAL_DAY_ONE } from "../findings/redact-days.js";
import type { LocalClock } from "./local-time.js";

const DAY_MS = 86_400_000;

/** A clock for a redacted result: days are counted from the first one, times of day are the site's own. */
export const dayClock: LocalClock = {
  zone: "the site’s own; dates are told as days of the period",
  moment: (instant) => `${day(instant)}, ${time(instant)}`,
  day,
  time,
  shortTime: (instant) => time(instant).slice(0, 5),
  offset: day,
  offsetMs: () => 0,
};

function day(instant: number): string {
  const number = Math.floor((instant - NEUTRAL_DAY_ONE) / DAY_MS) + 1;
  return `day ${String(number).replace("-", "−")}`;
}

function time(instant: number): string {
  return new Date(instant).toISOString().slice(11, 19);
}
