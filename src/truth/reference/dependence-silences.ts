import type { Site } from "../../site/site.js";
import { binomialTail } from "../../statistics/tails.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { LEAST_TOGETHER, type PairFound } from "./pair-found.js";
import type { Witness } from "./witness.js";
import type { Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** Silences of things that have nothing to do with each other come closer than spread evenly: at night, or on the same days. So many times; our own choice. */
const CROWDED = 4;

/** One's beginnings of being unknown, and how exactly they are told (milliseconds). */
interface Dark {
  readonly since: Float64Array;
  readonly toleranceMs: number;
}

/**
 * Signals that go unknown at the same time again and again: each of the one's beginnings falls within a tolerance of one of the other's with a
 * share that is known; the chance of as many is a binomial tail. A signal that reports at intervals went dark somewhere in one of them. What
 * strikes every signal of the site is the recorder's and tells nothing about two of them.
 */
export function silentTogether(witnesses: readonly Witness[], site: Pick<Site, "signals" | "restartMs">, period: Interval): (one: Witness, other: Witness) => PairFound[] {
  const expected = new Map(site.signals.map(({ id, expectMs }) => [id, expectMs ?? 0]));
  const darkOf = new Map<string, Dark>(witnesses.map(({ id, account }) => [id, { since: beginnings(account), toleranceMs: site.restartMs + expected.get(id)! }]));
  const everyone = [...darkOf.values()];
  const isRecorder = (at: number): boolean => everyone.length > 2 && everyone.every((one) => isNear(one, at));
  const own = new Map([...darkOf].map(([id, { since, toleranceMs }]) => [id, { since: since.filter((at) => !isRecorder(at)), toleranceMs }]));
  return (one, other) => {
    const [mine, theirs] = [own.get(one.id)!, own.get(other.id)!];
    const toleranceMs = Math.max(mine.toleranceMs, theirs.toleranceMs);
    const [few, many] = mine.since.length <= theirs.since.length ? [mine.since, theirs.since] : [theirs.since, mine.since];
    const together = [...few].filter((at) => isNear({ since: many, toleranceMs }, at)).length;
    if (together < LEAST_TOGETHER) return [];
    const share = Math.min(1, (CROWDED * 2 * toleranceMs * many.length) / (period.to - period.from));
    return [{ how: "silences", chance: binomialTail(together, few.length, share), text: `went silent together ${together} times (${mine.since.length} and ${theirs.since.length} times in all)` }];
  };
}

function beginnings({ times, states }: Timeline): Float64Array {
  return times.filter((_, i) => i > 0 && states[i] === UNKNOWN);
}

function isNear({ since, toleranceMs }: Dark, at: number): boolean {
  return (since[firstAtOrAfter(since, at - toleranceMs)] ?? Infinity) <= at + toleranceMs;
}
