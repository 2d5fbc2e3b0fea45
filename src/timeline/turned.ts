import { requireDuration } from "./held.js";
import { canonicalTimeline } from "./make.js";
import { OFF, ON, UNKNOWN, type Timeline, type Turn } from "./timeline.js";
import type { Interval } from "../ground/intervals.js";

/** How a change to a known state is told from a sensor that merely came back. */
export interface TurnOptions {
  /** The longest unknown stretch between the two known states over which a turn is still believed; 0 for none. */
  readonly bridgeMs: number;
  /** Outages over which no turn is believed, however short. Any order; may overlap; an empty one is an instant. */
  readonly barriers: readonly Interval[];
}

/**
 * The instants at which `x` goes from the known opposite state to `to`, in time order.
 * Unknown → `to` is no turn: a sensor that comes back did not see anyone arrive. Opposite → unknown → `to` is one only
 * when the unknown stretch is at most `bridgeMs` long and overlaps no barrier; it then happened somewhere in
 * `[earliest, at]`, with `earliest` the beginning of the unknown stretch. The state at `start` is no turn.
 * @throws RangeError when `bridgeMs` is negative or not a number, or a barrier ends before it begins.
 */
export function turned(x: Timeline, to: typeof OFF | typeof ON, options: TurnOptions): Turn[] {
  requireDuration(options.bridgeMs);
  const barriers = sortedBarriers(options.barriers);
  const opposite = to === ON ? OFF : ON;
  const turns: Turn[] = [];
  let barrier = 0;
  for (let i = 1; i < x.times.length; i += 1) {
    if (x.states[i] !== to) continue;
    const at = x.times[i]!;
    if (x.states[i - 1] === opposite) {
      turns.push({ at, earliest: at });
      continue;
    }
    if (i < 2 || x.states[i - 2] !== opposite) continue;
    const earliest = x.times[i - 1]!;
    if (at - earliest > options.bridgeMs) continue;
    // Merged barriers are disjoint and sorted, as are the unknown stretches: the pointer only moves forward.
    while (barrier < barriers.length && isOver(barriers[barrier]!, earliest)) barrier += 1;
    const next = barriers[barrier];
    if (next === undefined || !beginsBefore(next, at)) turns.push({ at, earliest });
  }
  return turns;
}

/**
 * On during `[turn.at, turn.at + withinMs)` after each turn of `x` to `to`, whatever `x` does afterwards. Elsewhere unknown
 * where `x` was unknown at some instant of `[t − withinMs, t]` (a turn may have gone unseen; time before `start` counts
 * as unknown), else off. A bridged turn counts from the instant it was seen, not from its earliest.
 * @throws RangeError as {@link turned}, and when `withinMs` is negative or not a number.
 */
export function turnedWithin(x: Timeline, to: typeof OFF | typeof ON, withinMs: number, options: TurnOptions): Timeline {
  requireDuration(withinMs);
  const turns = turned(x, to, options);
  const count = x.times.length;
  const times = new Float64Array(4 * count + 2);
  const states = new Uint8Array(4 * count + 2);
  let written = 0;
  let turn = 0;
  let onUntil = -Infinity;
  // Time before the start is unknown, so a turn may have gone unseen until the window has left it behind.
  let unknownUntil = x.start + withinMs;
  for (let i = 0; i < count; i += 1) {
    const from = x.times[i]!;
    const next = i + 1 < count ? x.times[i + 1]! : x.end;
    if (turns[turn]?.at === from) {
      onUntil = from + withinMs;
      turn += 1;
    }
    if (x.states[i] === UNKNOWN) unknownUntil = next + withinMs;
    // Within a step the state can only fall from on to unknown to off.
    if (onUntil > from) {
      times[written] = from;
      states[written] = ON;
      written += 1;
    }
    const unknownFrom = Math.max(from, onUntil);
    if (unknownFrom < next && unknownUntil > unknownFrom) {
      times[written] = unknownFrom;
      states[written] = UNKNOWN;
      written += 1;
    }
    const offFrom = Math.max(unknownFrom, unknownUntil);
    if (offFrom < next) {
      times[written] = offFrom;
      states[written] = OFF;
      written += 1;
    }
  }
  return canonicalTimeline(x.start, x.end, times.subarray(0, written), states.subarray(0, written));
}

/** Disjoint and in order, so that one pointer can follow them. */
function sortedBarriers(barriers: readonly Interval[]): Interval[] {
  const wrong = barriers.find((one) => !(one.from <= one.to));
  if (wrong !== undefined) throw new RangeError(`A barrier must not end before it begins: [${wrong.from}, ${wrong.to}).`);
  const merged: Interval[] = [];
  for (const one of barriers.toSorted((a, b) => a.from - b.from || a.to - b.to)) {
    const last = merged.at(-1);
    if (last !== undefined && one.from < last.to) merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, one.to) };
    else merged.push(one);
  }
  return merged;
}

/** Wholly before the instant. An empty barrier at the instant itself still counts. */
function isOver(barrier: Interval, instant: number): boolean {
  return barrier.from === barrier.to ? barrier.to < instant : barrier.to <= instant;
}

/** Begins before the unknown stretch ends; that it does not end before the stretch begins is known by then. */
function beginsBefore(barrier: Interval, to: number): boolean {
  return barrier.from === barrier.to ? barrier.from <= to : barrier.from < to;
}
