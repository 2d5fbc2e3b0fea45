import { quiet, type HouseholdLife } from "./household-life.js";
import { between, instantsEvenly, type Chance } from "./random.js";
import { laneQuiet, type YardLife } from "./yard.js";
import { HOUR, MINUTE, type Span } from "./world.js";

/** Faults of one kind are at least this far apart. */
const LEAST_APART = 15 * MINUTE;

/** So many a month of 31 days on average, one by one; fewer when those are taken out that fall on an arrival. */
export function evenly(chance: Chance, span: Span, aMonth: number): number[] {
  return instantsEvenly(chance, span.from + 6 * HOUR, span.to - 2 * HOUR, aMonth);
}

/** So many clumps a month on average, each of four to seven within `hours`. */
export function inClumps(chance: Chance, span: Span, clumpsAMonth: number, hours = 4): number[] {
  return evenly(chance, span, clumpsAMonth)
    .flatMap((start) => Array.from({ length: 4 + Math.floor(chance() * 4) }, () => start + between(chance, 0, hours) * HOUR))
    .filter((at) => at < span.to - 2 * HOUR)
    .sort((a, b) => a - b);
}

/** Those at which nobody came or went in a household, apart from one another. */
export function awayFromComings(times: readonly number[], life: HouseholdLife): number[] {
  return spaced(times.filter((at) => quiet(life, at)));
}

/** Those at which no vehicle came to the yard, apart from one another. */
export function awayFromVehicles(times: readonly number[], life: YardLife): number[] {
  return spaced(times.filter((at) => laneQuiet(life, at)));
}

function spaced(times: readonly number[]): number[] {
  const kept: number[] = [];
  for (const at of times) if (at - (kept.at(-1) ?? -Infinity) >= LEAST_APART) kept.push(at);
  return kept;
}
