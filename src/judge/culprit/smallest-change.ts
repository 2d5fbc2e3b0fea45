/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import { ascending, least } from "d3-array";
import { firstAtOrAfter } from "../../ground/search.js";
import type { Interval } from "../../ground/intervals.js";
import { stepAt } from "../../timeline/state-at.js";
import type { Timeline } from "../../timeline/timeline.js";

/** A condition that must hold: over time, and in which state of its timeline it does. Unknown is no such state. */
export interface Needed {
  readonly key: string;
  readonly timeline: Timeline;
  readonly holdsIn: 0 | 1;
  /** What last held longer ago than this, in milliseconds, is out of reach. */
  readonly reachMs: number;
}

/** A needed condition that does not hold at an instant. */
export interface Failing<Condition extends Needed> {
  readonly condition: Condition;
  /** Since it last held, in milliseconds: by so much a longer window would have to be longer. Infinity: out of reach. */
  readonly endedMs: number;
  /** Until it next holds, in milliseconds. Infinity: out of reach. */
  readonly comesMs: number;
}

/** What the fewest and smallest changes would have been, and at which instant they would have sufficed. */
export interface SmallestChange<Condition extends Needed> {
  readonly at: number;
  /** The hardest first. Empty where all conditions held at once. */
  readonly failing: readonly Failing<Condition>[];
  /** Of all of them together, milliseconds; Infinity where one is out of reach. */
  readonly sizeMs: number;
}

/**
 * At which instant of the closed window the fewest conditions failed, and of equally few, where the changes that would
 * have made them hold were smallest; of equals the earliest at which the hardest had ended, since a window is easier to
 * change than when a sensor reports, else the earliest. A change is to last longer, or to come earlier; what last held
 * longer ago than its own `reachMs`, or next holds after more than `reachMs`, is out of reach. Instants are whole milliseconds. Looks wherever a
 * condition changes or comes into reach, at the millisecond before, and at both ends of the window: in between, the
 * changes only grow or shrink evenly.
 */
export function smallestChange<Condition extends Needed>(conditions: readonly Condition[], { from, to }: Interval, reachMs: number): SmallestChange<Condition> | null {
  const instants = new Set([from, to]);
  const add = (at: number): unknown => (at >= from && at <= to ? instants.add(at) : null);
  for (const { timeline: { times }, reachMs: backMs } of conditions) {
    for (let i = firstAtOrAfter(times, from - backMs); i < times.length && times[i]! <= to + reachMs + 1; i += 1) {
      for (const at of [times[i]! - 1, times[i]!, times[i]! - reachMs, times[i]! - 1 + backMs]) add(at);
    }
  }
  const looked = [...instants].sort(ascending).map((at) => changeAt(conditions, at, reachMs));
  return least(looked, (a, b) => smallerFirst(a, b) || endedFirst(a, b) || a.at - b.at) ?? null;
}

/** Fewer failing conditions first, then the smaller change. */
export function smallerFirst(a: SmallestChange<Needed>, b: SmallestChange<Needed>): number {
  return a.failing.length - b.failing.length || ascending(a.sizeMs, b.sizeMs);
}

function endedFirst(a: SmallestChange<Needed>, b: SmallestChange<Needed>): number {
  const [one, other] = [a, b].map(({ failing: [worst] }) => (worst !== undefined && worst.endedMs <= worst.comesMs ? 0 : 1));
  return ascending(one, other);
}

function changeAt<Condition extends Needed>(conditions: readonly Condition[], at: number, reachMs: number): SmallestChange<Condition> {
  const failing = conditions.flatMap((condition) => failingAt(condition, at, reachMs) ?? []);
  const ordered = failing.sort((a, b) => ascending(sizeOf(b), sizeOf(a)) || ascending(a.condition.key, b.condition.key));
  return { at, failing: ordered, sizeMs: ordered.reduce((sum, one) => sum + sizeOf(one), 0) };
}

function sizeOf({ endedMs, comesMs }: Failing<Needed>): number {
  return Math.min(endedMs, comesMs);
}

function failingAt<Condition extends Needed>(condition: Condition, at: number, reachMs: number): Failing<Condition> | null {
  const { timeline: { times, states, start, end }, holdsIn } = condition;
  const here = stepAt(condition.timeline, at);
  const inside = at >= start && at < end;
  if (inside && states[here] === holdsIn) return null;
  const reached = (ms: number, reach: number): number => (ms <= reach ? ms : Infinity);
  let before = here;
  while (before > 0 && times[before]! >= at - condition.reachMs && states[before - 1] !== holdsIn) before -= 1;
  let next = here + 1;
  while (next < times.length && times[next]! <= at + reachMs && states[next] !== holdsIn) next += 1;
  // It holds until just before its step ends, so it must last one millisecond longer to hold at that very instant.
  const endedMs = before > 0 && states[before - 1] === holdsIn ? reached(at - times[before]! + 1, condition.reachMs) : Infinity;
  const comesMs = next < times.length && states[next] === holdsIn ? reached(times[next]! - at, reachMs) : Infinity;
  return { condition, endedMs, comesMs };
}
