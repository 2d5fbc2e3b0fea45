/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is of a leaf or runs below the number of steps */
import type { Timeline } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";
import type { ClaimLeaf } from "../rule/claims.js";
import { timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";

/**
 * What all leaves of a condition were at once, over time. However long the history, a condition is in few different
 * situations: each is kept once in `patterns` (1 where the leaf holds, in the order of the leaves; unknown does not
 * hold), and `pattern[i]` says which one is in force on `[times[i], times[i + 1])`, the last one until `end`.
 */
export interface JointHistory {
  readonly start: number;
  readonly end: number;
  readonly times: Float64Array;
  readonly pattern: Int32Array;
  readonly patterns: readonly Uint8Array[];
}

/**
 * Merges the leaves' histories. Linear in their steps times the number of leaves.
 * @throws RangeError when there is no leaf or one of them was never evaluated.
 */
export function jointHistory(leaves: readonly ClaimLeaf[], parts: EvaluatedParts): JointHistory {
  const timelines = leaves.map((leaf) => timelineOfPart(leaf.atom, parts));
  const first = timelines[0];
  if (first === undefined) throw new RangeError("A condition has at least one leaf.");
  const most = timelines.reduce((sum, timeline) => sum + timeline.times.length, 0);
  const times = new Float64Array(most);
  const pattern = new Int32Array(most);
  const patterns: Uint8Array[] = [];
  const known = new Map<string, number>();
  const next = new Int32Array(leaves.length);
  const holds = new Uint8Array(leaves.length);
  let count = 0;
  for (let at = first.start; at < first.end; at = earliest(timelines, next, first.end)) {
    timelines.forEach((timeline, leaf) => {
      if (!(timeline.times[next[leaf]!]! <= at)) return;
      holds[leaf] = timeline.states[next[leaf]!] === leaves[leaf]!.holdsIn ? 1 : 0;
      next[leaf]! += 1;
    });
    const key = packed(holds);
    let index = known.get(key);
    if (index === undefined) {
      index = patterns.length;
      known.set(key, index);
      patterns.push(holds.slice());
    }
    if (count > 0 && pattern[count - 1] === index) continue;
    times[count] = at;
    pattern[count] = index;
    count += 1;
  }
  return { start: first.start, end: first.end, times: times.slice(0, count), pattern: pattern.slice(0, count), patterns };
}

/**
 * Called for each stretch `[from, to)`, in order, over which the pattern does not change and that is all inside or all
 * outside of `intervals` (disjoint, in order).
 */
export function eachStretch(history: JointHistory, intervals: readonly Interval[], visit: (from: number, to: number, pattern: number, inside: boolean) => void): void {
  let next = 0;
  for (let i = 0; i < history.times.length; i += 1) {
    const end = history.times[i + 1] ?? history.end;
    for (let from = history.times[i]!; from < end; ) {
      while (next < intervals.length && intervals[next]!.to <= from) next += 1;
      const interval = intervals[next] ?? { from: Infinity, to: Infinity };
      const inside = interval.from <= from;
      const to = Math.min(end, inside ? interval.to : interval.from);
      visit(from, to, history.pattern[i]!, inside);
      from = to;
    }
  }
}

function earliest(timelines: readonly Timeline[], next: Int32Array, end: number): number {
  let at = end;
  for (let i = 0; i < timelines.length; i += 1) at = Math.min(at, timelines[i]!.times[next[i]!] ?? end);
  return at;
}

/** A key that is cheap to make and to compare: fifteen leaves in each character. */
function packed(holds: Uint8Array): string {
  let text = "";
  for (let i = 0; i < holds.length; i += 15) {
    let word = 0;
    for (let j = i; j < Math.min(i + 15, holds.length); j += 1) word = word * 2 + holds[j]!;
    text += String.fromCharCode(word);
  }
  return text;
}
