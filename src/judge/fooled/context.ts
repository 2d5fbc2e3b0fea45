import { any } from "../../timeline/any.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";

/** When acting would have been wrong: `verified` where a witness outside the rule (or the diary) says so. Both are on or off, never unknown. */
export interface WrongTime {
  readonly verified: Timeline;
  /** Also where nobody outside the rule can tell and all witnesses together say that it would have been wrong. */
  readonly looked: Timeline;
}

/**
 * The instants at which a firing would be judged wrong: by the same measure as the firings themselves (`judgeFiring`),
 * the facts are not so then nor within `earlyMs` after. `outside` are the facts without the rule's own signals, `full` with all. What nobody can tell is not among them.
 */
export function wrongTime(outside: Timeline, full: Timeline, earlyMs: number): WrongTime {
  const verified = throughoutAhead(outside, earlyMs);
  const silent = unless(throughoutAhead(full, earlyMs), sometimeAhead(outside, earlyMs));
  return { verified, looked: any([verified, silent]) };
}

/** On at t where `x` is off all through `[t, t + aheadMs]`. */
function throughoutAhead(x: Timeline, aheadMs: number): Timeline {
  return marked(x, stretches(x, OFF).map(({ from, to }) => [from, to - aheadMs] as const).filter(([from, to]) => to > from));
}

/** On at t where `x` is on at some instant of `[t, t + aheadMs]`. */
function sometimeAhead(x: Timeline, aheadMs: number): Timeline {
  const reaching: [number, number][] = [];
  for (const { from, to } of stretches(x, ON)) {
    const last = reaching.at(-1);
    if (last !== undefined && from - aheadMs <= last[1]) last[1] = to;
    else reaching.push([from - aheadMs, to]);
  }
  return marked(x, reaching);
}

/** On in the given stretches (disjoint, in order), off elsewhere. */
function marked({ start, end }: Timeline, on: readonly (readonly [number, number])[]): Timeline {
  const edges = on.flatMap(([from, to]) => [from, to]);
  const first = on.length > 0 && on[0]![0] < start ? on[0]![0] : start;
  return canonicalTimeline(start, end, [first, ...edges], [OFF, ...edges.map((_, i) => (i % 2 === 0 ? ON : OFF))]);
}

/** On where `x` is on and `y` is not. */
function unless(x: Timeline, y: Timeline): Timeline {
  const kept: [number, number][] = [];
  const away = [...stretches(y, OFF), ...stretches(y, UNKNOWN)].sort((a, b) => a.from - b.from);
  let next = 0;
  for (const { from, to } of stretches(x, ON)) {
    while (next < away.length && away[next]!.to <= from) next += 1;
    for (let i = next; i < away.length && away[i]!.from < to; i += 1) kept.push([Math.max(from, away[i]!.from), Math.min(to, away[i]!.to)]);
  }
  return marked(x, kept);
}
