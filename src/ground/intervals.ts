/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the length of its list */
import { firstWhere } from "./search.js";

/** A stretch of time `[from, to)` in epoch milliseconds. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/**
 * The union, as disjoint intervals in order. Touching intervals are merged, empty ones dropped. Any order; may overlap.
 */
export function union(intervals: readonly Interval[]): Interval[] {
  const result: { from: number; to: number }[] = [];
  for (const { from, to } of [...intervals].sort((a, b) => a.from - b.from)) {
    if (from >= to) continue;
    const last = result.at(-1);
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else result.push({ from, to });
  }
  return result;
}

/** The time that is in both of two lists; each must be disjoint and in order. */
export function intersection(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const result: Interval[] = [];
  for (let i = 0, j = 0; i < a.length && j < b.length; ) {
    const from = Math.max(a[i]!.from, b[j]!.from);
    const to = Math.min(a[i]!.to, b[j]!.to);
    if (from < to) result.push({ from, to });
    if (a[i]!.to < b[j]!.to) i += 1;
    else j += 1;
  }
  return result;
}

/** Those of disjoint intervals in order that have time in common with `[from, to)`, whole; by binary search. */
export function during<Kind extends Interval>(intervals: readonly Kind[], from: number, to: number): Kind[] {
  const first = firstWhere(intervals.length, (index) => intervals[index]!.to > from);
  return intervals.slice(first, Math.max(first, firstWhere(intervals.length, (index) => intervals[index]!.from >= to)));
}

/** The time that is in `a` (disjoint, in order) and not in `b` (any order; may overlap). */
export function difference(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const holes = union(b);
  const result: Interval[] = [];
  let past = 0;
  for (const { from, to } of a) {
    while (past < holes.length && holes[past]!.to <= from) past += 1;
    let at = from;
    for (let i = past; i < holes.length && holes[i]!.from < to; i += 1) {
      const hole = holes[i]!;
      if (hole.from > at) result.push({ from: at, to: hole.from });
      at = hole.to;
    }
    if (at < to) result.push({ from: at, to });
  }
  return result;
}

/** Each interval shortened by `byMs` at both ends; those that become empty are left out. */
export function shrunk(intervals: readonly Interval[], byMs: number): Interval[] {
  return intervals.map(({ from, to }) => ({ from: from + byMs, to: to - byMs })).filter(({ from, to }) => from < to);
}

/** The summed length in milliseconds of disjoint intervals. */
export function totalMs(intervals: readonly Interval[]): number {
  return intervals.reduce((sum, { from, to }) => sum + (to - from), 0);
}

/** The interval that contains `instant`, among disjoint intervals in order; null if none does. */
export function holding(intervals: readonly Interval[], instant: number): Interval | null {
  const found = intervals[firstWhere(intervals.length, (index) => intervals[index]!.to > instant)];
  return found !== undefined && found.from <= instant ? found : null;
}
