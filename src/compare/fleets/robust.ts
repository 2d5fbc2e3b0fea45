import { descending } from "d3-array";
import { type Fellows, type LeftOut, type Measure, type Measured, measures, NOBODY, standFamily, type Standings } from "./compare.js";

/** At most so many rounds; it usually settles in two or three. */
const MOST_ROUNDS = 8;
/** So many of the worst are left out to begin with: a few bad ones cannot hide one another then. Our own choice. */
const LEFT_OUT_FIRST = 0.2;
/** One and the three fellows that a comparison takes. */
const FEWEST_LEFT = 4;
/** A unit with fewer counts bends nothing. */
const LEAST_COUNT = 3;

/** Single units among their fellows, by a rate and a spread that those which stand out had no part in. */
export interface Robust {
  readonly standings: readonly Standings[];
  readonly leftOut: LeftOut;
  /** What was measured without those left out. */
  readonly measured: Measured;
}

/**
 * Compares single units (place = unit) by what those that do not stand out lead one to expect: begun without the worst
 * fifth, then again without those that stood out, until they are the same (a forward search; our own choice). One
 * chattering sensor would otherwise raise what is expected of all, and hide one that is stuck.
 */
export function standRobustly(measure: (leftOut: LeftOut) => Measured, fellowships: readonly Fellows[], places: number, confidence: number): Robust {
  let leftOut = worstOf(measure(NOBODY), fellowships);
  for (let round = 1; ; round += 1) {
    const measured = measure(leftOut);
    const standings = standFamily(measured, fellowships, places, confidence, leftOut);
    const out = byMeasure((name) => new Set(fellowships.flatMap(({ within }) => spared(within.filter((place) => standings[place]?.[name].standsOut === true), within))));
    if (round === MOST_ROUNDS || measures.every((name) => isSame(out[name], leftOut[name]))) return { standings, leftOut, measured };
    leftOut = out;
  }
}

function worstOf(measured: Measured, fellowships: readonly Fellows[]): LeftOut {
  return byMeasure((name) => {
    const beyond = (unit: number): number => {
      const { count, exposure } = measured[name][unit] ?? { count: 0, exposure: 0 };
      return count < LEAST_COUNT ? 0 : (count - exposure) / Math.sqrt(exposure + 1);
    };
    return new Set(
      fellowships.flatMap(({ within }) =>
        within
          .filter((unit) => beyond(unit) > 0)
          .toSorted((a, b) => descending(beyond(a), beyond(b)))
          .slice(0, Math.floor(within.length * LEFT_OUT_FIRST)),
      ),
    );
  });
}

/** Where hardly anybody would be left to compare with, nobody is left out. */
function spared(out: readonly number[], within: readonly number[]): readonly number[] {
  return within.length - out.length < FEWEST_LEFT ? [] : out;
}

function byMeasure(of: (name: Measure) => ReadonlySet<number>): LeftOut {
  return { faults: of("faults"), silences: of("silences"), flickers: of("flickers") };
}

function isSame(one: ReadonlySet<number>, other: ReadonlySet<number>): boolean {
  return one.size === other.size && [...one].every((unit) => other.has(unit));
}
