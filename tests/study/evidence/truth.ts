/** How often two parts are truly on at once: exactly, where faults come independently at known rates by the clock. */
import { DAY_SECONDS, DAYS_A_YEAR, merged, together, type Made } from "./pulses.js";

/** Faults of one part: how many a day, and the share of them that falls into one stretch of the day. The rest comes at any time. */
export interface ByClock {
  readonly perDay: number;
  readonly seconds: number;
  readonly hours: { readonly from: number; readonly to: number; readonly share: number } | null;
}

/** Faults a second at each second of the day. */
function densityOf({ perDay, hours }: ByClock): Float64Array {
  const even = (perDay * (1 - (hours?.share ?? 0))) / DAY_SECONDS;
  const density = new Float64Array(DAY_SECONDS).fill(even);
  if (hours !== null) for (let second = hours.from; second < hours.to; second += 1) density[second]! += (perDay * hours.share) / (hours.to - hours.from);
  return density;
}

/** The faults expected in the window that ends at each instant (the middle of each second); the day goes round, or begins in silence. */
function expectedBehind(density: Float64Array, seconds: number, round: boolean): Float64Array {
  const sums = new Float64Array(density.length + 1);
  density.forEach((value, second) => (sums[second + 1] = sums[second]! + value));
  const total = sums.at(-1)!;
  const upTo = (second: number): number => (second >= 0 ? sums[second]! + density[second]! / 2 : round ? sums[second + density.length]! + density[second + density.length]! / 2 - total : 0);
  return Float64Array.from(density, (_, second) => upTo(second) - upTo(second - seconds));
}

/**
 * Rises of "both on" over one stretch of time. A part is off at an instant when none of its faults came in the window behind: with
 * the chance e^−m, m of them being expected. One part rises at an instant at which the other is on, or the other way round.
 */
function risesOver(first: Float64Array, firstSeconds: number, second: Float64Array, secondSeconds: number, round: boolean): number {
  const [a, b] = [expectedBehind(first, firstSeconds, round), expectedBehind(second, secondSeconds, round)];
  return first.reduce((sum, density, i) => {
    const [offA, offB] = [Math.exp(-a[i]!), Math.exp(-b[i]!)];
    return sum + density * offA * (1 - offB) + second[i]! * offB * (1 - offA);
  }, 0);
}

/** A year's rises of both parts together; every day alike. Exact but for steps of a second. */
export function byClockPerYear(first: ByClock, second: ByClock): number {
  return DAYS_A_YEAR * risesOver(densityOf(first), first.seconds, densityOf(second), second.seconds, true);
}

/** The same where faults come evenly in one stretch of each day only, and nothing before it reaches into it. */
export function whileHomePerYear(first: ByClock, second: ByClock, homeSeconds: number): number {
  const even = ({ perDay }: ByClock): Float64Array => new Float64Array(homeSeconds).fill(perDay / homeSeconds);
  return DAYS_A_YEAR * risesOver(even(first), first.seconds, even(second), second.seconds, false);
}

/** Rises a year of each part and of both together, and the share of time on, over pieces of a year made by `make`. */
export interface Counted {
  readonly bothPerYear: number;
  /** From each part by itself, which is exact in the long run where neither knows of the other. */
  readonly apartPerYear: number;
}

/** Counts what a generator makes, year by year. */
export function counted(make: (days: number, year: number) => Made, years: number): Counted {
  let both = 0;
  const rises = [0, 0];
  const on = [0, 0];
  let kept = 0;
  for (let year = 0; year < years; year += 1) {
    const made = make(360, year);
    const parts = made.pulses.map(merged) as [ReturnType<typeof merged>, ReturnType<typeof merged>];
    both += together(...parts).length;
    parts.forEach((stretches, i) => {
      rises[i]! += stretches.length;
      on[i]! += stretches.reduce((sum, { seconds }) => sum + seconds, 0);
    });
    kept += Array.from(made.days).filter((letter) => letter !== "x").length;
  }
  const time = kept * DAY_SECONDS;
  const perYear = DAYS_A_YEAR / kept;
  return { bothPerYear: both * perYear, apartPerYear: (rises[0]! * (on[1]! / time) + rises[1]! * (on[0]! / time)) * perYear };
}
