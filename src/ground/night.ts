/** Night lasts from 22:00 to 06:00 local time: people sleep, and nobody notices. Our own choice. */
export const NIGHT = { from: 22, to: 6 } as const;

/** Whether a local hour of the day, with or without its fraction, lies in the night. */
export function isNight(hour: number): boolean {
  return hour >= NIGHT.from || hour < NIGHT.to;
}
