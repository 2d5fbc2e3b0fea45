/** Seconds of a day on the clock. */
export const DAY_SECONDS = 86_400;

/** Seconds from one clock time to the next occurrence of another, 0 to a day. */
export function clockSecondsFrom(from: number, to: number): number {
  let seconds = to - from;
  // Faster than a remainder, and never a day or more away from it: this is asked of every pair of stretches.
  while (seconds < 0) seconds += DAY_SECONDS;
  while (seconds >= DAY_SECONDS) seconds -= DAY_SECONDS;
  return seconds;
}

/** The shorter way between two clock times, in seconds. */
export function clockDistance(a: number, b: number): number {
  const later = clockSecondsFrom(a, b);
  return Math.min(later, DAY_SECONDS - later);
}
