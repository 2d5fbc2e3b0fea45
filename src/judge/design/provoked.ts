import { group } from "d3-array";
import { intersection, type Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";
import type { DesignRoad } from "../../result/design.js";
import { shareUpperBound } from "../../statistics/share.js";
import { rises } from "../../timeline/rises.js";
import type { Timeline } from "../../timeline/timeline.js";

/** A shared cause that somebody let fail on purpose, and when. Epoch milliseconds. */
export interface Provoked extends Interval {
  readonly cause: string;
}

/** What a test provokes may come this long after it: a board that restarts needs minutes. Our own choice. */
const AFTERMATH_MS = 10 * MINUTE_MS;

/** The time that belongs to a test: what happens in it was provoked and says nothing about ordinary days. */
export function testTime({ from, to }: Provoked): Interval {
  return { from, to: to + AFTERMATH_MS };
}

/**
 * What provoked tests show of each cause: in how many both parts began to hold, and the most that may happen at this
 * confidence. Source of the bound: Clopper & Pearson (1934): none of 20 is at most 13.9 %.
 */
export function provokedTests(tests: readonly Provoked[], parts: readonly [Timeline, Timeline], confidence: number): DesignRoad["tests"] {
  const began = parts.map((part) => Array.from(rises(part)));
  const reached = (test: Provoked): boolean => {
    const { from, to } = testTime(test);
    return began.every((instants) => instants.some((at) => at >= from && at <= to));
  };
  const [{ start, end }] = parts;
  const inPeriod = tests.filter((test) => intersection([testTime(test)], [{ from: start, to: end }]).length > 0);
  return Array.from(group(inPeriod, (test) => test.cause), ([cause, ofCause]) => {
    const both = ofCause.filter(reached).length;
    return { cause, made: ofCause.length, reachedBoth: both, atMostShare: shareUpperBound(both, ofCause.length, confidence) };
  });
}
