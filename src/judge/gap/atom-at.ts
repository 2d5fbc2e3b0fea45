/* eslint-disable @typescript-eslint/no-non-null-assertion -- every position runs below the number of changes */
import type { Atom } from "../rule/condition.js";

/** A short history without unknown time: the state it begins in, and the instants of its changes, rising. */
export interface Course {
  readonly first: 0 | 1;
  readonly changes: readonly number[];
}

/**
 * Whether an atom holds at `instant`, the course having begun long before. The same as the timeline operators say of
 * such a course (a test holds the two together), but without building a timeline: the search asks this a hundred
 * thousand times.
 */
export function atomAt(atom: Atom, course: Course, instant: number): boolean {
  if (atom.op === "turned") return turnedAt(course, atom.to, atom.withinMs, instant);
  const { state, heldMs, recentlyMs } = atom;
  if (recentlyMs === null) return heldAt(course, state, heldMs ?? 0, instant);
  return recentlyAt(course, state, heldMs ?? 0, recentlyMs, instant);
}

/** The ages of a change at which the atom may begin or cease to hold, in milliseconds. */
export function criticalAges(atom: Atom): number[] {
  if (atom.op === "turned") return [0, atom.withinMs];
  const heldMs = atom.heldMs ?? 0;
  return [0, heldMs, ...(atom.recentlyMs === null ? [] : [atom.recentlyMs, heldMs + atom.recentlyMs])];
}

function turnedAt({ first, changes }: Course, to: 0 | 1, withinMs: number, instant: number): boolean {
  // Changes go to and fro, so every other one is a turn to this state.
  for (let i = first === to ? 1 : 0; i < changes.length; i += 2) {
    const at = changes[i]!;
    if (at <= instant && instant < at + withinMs) return true;
  }
  return false;
}

function heldAt({ first, changes }: Course, state: 0 | 1, heldMs: number, instant: number): boolean {
  let past = 0;
  while (past < changes.length && changes[past]! <= instant) past += 1;
  return stateAfter(first, past) === state && (past === 0 || changes[past - 1]! + heldMs <= instant);
}

function recentlyAt({ first, changes }: Course, state: 0 | 1, heldMs: number, recentlyMs: number, instant: number): boolean {
  for (let i = 0; i <= changes.length; i += 1) {
    const from = (changes[i - 1] ?? -Infinity) + heldMs;
    const to = changes[i] ?? Infinity;
    if (stateAfter(first, i) === state && from < to && from <= instant && instant < to + recentlyMs) return true;
  }
  return false;
}

function stateAfter(first: 0 | 1, changes: number): 0 | 1 {
  return changes % 2 === 0 ? first : ((1 - first) as 0 | 1);
}
