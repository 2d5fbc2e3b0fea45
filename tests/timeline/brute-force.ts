import fc from "fast-check";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../src/timeline/timeline.js";
import type { Interval } from "../../src/ground/intervals.js";

/**
 * The definitions, instant by instant, on the half-integer grid. Steps and durations in these tests are whole numbers,
 * so every stretch and every window that matters holds a grid instant, and so does the inside of every step.
 */
export const GRID = 0.5;

/** The state at every grid instant of `[start, end)`. */
export function onGrid(x: Timeline, from = x.start, to = x.end): TruthState[] {
  return gridInstants(from, to).map((instant) => stateAt(x, instant));
}

/** Grid instants of the half-open `[from, to)`. */
export function gridInstants(from: number, to: number): number[] {
  return Array.from({ length: Math.max(0, Math.ceil((to - from) / GRID)) }, (_, i) => from + i * GRID);
}

/** The states of `x` at every grid instant of the closed window `[t − d, t]`; before the start they are unknown. */
export function windowStates(x: Timeline, t: number, d: number): TruthState[] {
  return gridInstants(t - d, t + GRID).map((instant) => stateAt(x, instant));
}

/** Fails unless the timeline is as `Timeline` promises: starts at start, strictly rising, before end, no equal neighbours. */
export function expectCanonical(x: Timeline): void {
  const sound =
    x.start < x.end &&
    x.times.length === x.states.length &&
    x.times[0] === x.start &&
    x.times.every((instant, i) => instant < x.end && (i === 0 || instant > x.times[i - 1]!)) &&
    x.states.every((state, i) => (state === OFF || state === ON || state === UNKNOWN) && (i === 0 || state !== x.states[i - 1]));
  if (!sound) throw new Error(`Not canonical: [${x.start}, ${x.end}) ${x.times.join(" ")} | ${x.states.join(" ")}`);
}

export const START = 100;
export const END = 140;

const anyState = fc.constantFrom<TruthState>(OFF, ON, UNKNOWN);

/** Small timelines over `[START, END)` with whole-number steps, dense enough that windows meet several steps. */
export const anyTimeline: fc.Arbitrary<Timeline> = fc
  .array(fc.tuple(fc.integer({ min: START, max: END }), anyState), { maxLength: 14 })
  .map((steps) => steps.sort((a, b) => a[0] - b[0]))
  .map((steps) =>
    canonicalTimeline(
      START,
      END,
      steps.map(([instant]) => instant),
      steps.map(([, state]) => state),
    ),
  );

export const someTimelines = fc.array(anyTimeline, { minLength: 1, maxLength: 6 });

/** From no time at all to longer than the whole timeline. */
export const anyDuration = fc.integer({ min: 0, max: END - START + 5 });

export const anyBarriers: fc.Arbitrary<Interval[]> = fc.array(
  fc.tuple(fc.integer({ min: START - 3, max: END + 3 }), fc.integer({ min: 0, max: 6 })).map(([from, length]) => ({ from, to: from + length })),
  { maxLength: 4 },
);

/** How many cases a property is tried on. */
export const RUNS = { numRuns: 300 };
