/** Seconds of a day on the clock. */
export const DAY_SECONDS = 86_400;

/** Seconds from one clock time to the next occurrence of another, 0 to a day. */
export function clockSecondsFrom(from: number, to: number): number {
  return (((to - from) % DAY_SECONDS) + DAY_SECONDS) % DAY_SECONDS;
}

/** The shorter way between two clock times, in seconds. */
export function clockDistance(a: number, b: number): number {
  const later = clockSecondsFrom(a, b);
  return Math.min(later, DAY_SECONDS - later);
}
