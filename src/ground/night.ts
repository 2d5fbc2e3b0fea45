import { HOURS_PER_DAY } from "./units.js";

/** Night lasts from 22:00 to 06:00 local time: people sleep, and nobody notices. Our own choice. */
const NIGHT = { from: 22, to: 6 } as const;

/** The night within one day, from hour to hour: its end first. */
export const NIGHT_SPANS: readonly (readonly [number, number])[] = [[0, NIGHT.to], [NIGHT.from, HOURS_PER_DAY]];

/** Whether a local hour of the day, with or without its fraction, lies in the night. */
export function isNight(hour: number): boolean {
  return hour >= NIGHT.from || hour < NIGHT.to;
}
