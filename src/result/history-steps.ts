import type { Timeline, TruthState } from "../timeline/timeline.js";

const letters = ["f", "n", "u"] as const;

/**
 * A timeline as one short text: a word a step, its first letter the state (`n` on, `f` off, `u` unknown), the rest the
 * milliseconds since the step before, to the base 36 (`f0 n5yc u3k`); the first step counts from the beginning of the period.
 */
export function stepsText({ start, times, states }: Timeline): string {
  let before = start;
  return Array.from(times, (at, index) => {
    const word = `${letters[states[index] as TruthState]}${Math.round(at - before).toString(36)}`;
    before = at;
    return word;
  }).join(" ");
}

/** A step: from `at` (epoch milliseconds) on. */
export interface Step {
  readonly at: number;
  readonly state: TruthState;
}

/** Reads what {@link stepsText} wrote. Raises `RangeError` for any other text. */
export function stepsOf(text: string, start: number): Step[] {
  let at = start;
  return text.split(" ").map((word) => {
    const state = letters.findIndex((letter) => word.startsWith(letter));
    const after = /^[0-9a-z]+$/.test(word.slice(1)) ? parseInt(word.slice(1), 36) : NaN;
    if (state < 0 || !Number.isSafeInteger(after)) throw new RangeError(`"${word}" is no step.`);
    at += after;
    return { at, state: state as TruthState };
  });
}

/** Place of the step in force at an instant; -1 before the first. */
export function stepAt(steps: readonly Step[], instant: number): number {
  let [low, high] = [0, steps.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((steps[middle]?.at ?? Infinity) <= instant) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
