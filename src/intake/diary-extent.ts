import type { Interval } from "../ground/intervals.js";
import { HOUR_MS } from "../ground/units.js";
import type { DiaryEntry } from "./readings.js";

/** How much of a period the diary tells. Hours are subject-hours: an hour written down for two subjects counts twice. */
export function diaryExtent(diary: readonly DiaryEntry[], period: Interval): { entries: number; hours: number } {
  const inside = diary.map(({ from, to }) => Math.min(to, period.to) - Math.max(from, period.from)).filter((length) => length > 0);
  return { entries: inside.length, hours: inside.reduce((sum, length) => sum + length, 0) / HOUR_MS };
}
