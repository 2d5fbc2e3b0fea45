/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps or of barriers */
import { requireDuration } from "./held.js";
import { canonicalTimeline } from "./make.js";
import { OFF, ON, UNKNOWN, type Timeline, type Turn } from "./timeline.js";
import type { Interval } from "../ground/intervals.js";

/** What tells a real change from a sensor that comes back after an outage. */
export interface TurnOptions {
  /** A turn counts across an unknown stretch of at most this length; 0 for no such turn. */
  readonly bridgeMs: number;
  /** No turn counts across one of these outages, however short. Any order; may overlap; an empty one is an instant. */
  readonly barriers: readonly Interval[];
}

/**
 * The instants at which `x` goes from the known opposite state to `to`, in time order. Unknown → `to` is not a turn: a
 * sensor that comes back did not see anyone arrive. Opposite → unknown → `to` is a turn only when the unknown stretch
 * is at most `bridgeMs` long and overlaps no barrier. It then happened in `[earliest, at]`, where `earliest` is the
 * beginning of the unknown stretch. The state at `start` is not a turn.
 * @throws RangeError when `bridgeMs` is negative or not a number, or a barrier ends before it begins.
 */
export function turned(x: Timeline, to: typeof OFF | typeof ON, options: TurnOptions): Turn[] {
  requireDuration(options.bridgeMs);
  requireBarriers(options.barriers);
  const barriers = options.barriers.toSorted((a, b) => a.from - b.from || a.to - b.to);
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
    if (x.states[i - 2] !== opposite) continue;
    const earliest = x.times[i - 1]!;
    if (at - earliest > options.bridgeMs) continue;
    // Unknown stretches come in time order, so a barrier that is over stays over; of the others, the first begins first.
    while (barrier < barriers.length && isOver(barriers[barrier]!, earliest)) barrier += 1;
    const next = barriers[barrier];
    if (next === undefined || !beginsBefore(next, at)) turns.push({ at, earliest });
  }
  return turns;
}

/**
 * On during `[turn.at, turn.at + withinMs)` after each turn of `x` to `to`, whatever `x` does afterwards. Elsewhere
 * unknown where `x` was unknown at some instant of `[t − withinMs, t]`, because a turn may have gone unseen (time
 * before `start` counts as unknown), else off. A bridged turn counts from the instant it was seen, not from its
 * earliest.
 * @throws RangeError as {@link turned}, and when `withinMs` is negative or not a number.
 */
export function turnedWithin(x: Timeline, to: typeof OFF | typeof ON, withinMs: number, options: TurnOptions): Timeline {
  requireDuration(withinMs);
  const turns = turned(x, to, options);
  const count = x.times.length;
  const times = new Float64Array(3 * count);
  const states = new Uint8Array(3 * count);
  let written = 0;
  const put = (at: number, state: number): void => {
    times[written] = at;
    states[written] = state;
    written += 1;
  };
  let turn = 0;
  let onUntil = -Infinity;
  // Time before the start is unknown: a turn may have gone unseen until the window has left it.
  let unknownUntil = x.start + withinMs;
  for (let i = 0; i < count; i += 1) {
    const from = x.times[i]!;
    const next = i + 1 < count ? x.times[i + 1]! : x.end;
    if (turns[turn]?.at === from) {
      onUntil = from + withinMs;
      turn += 1;
    }
    if (x.states[i] === UNKNOWN) unknownUntil = next + withinMs;
    // Within a step the state goes from on to unknown to off; of two at the same instant the later one counts.
    if (onUntil > from) put(from, ON);
    const unknownFrom = Math.max(from, onUntil);
    if (unknownFrom < next) put(unknownFrom, UNKNOWN);
    const offFrom = Math.max(unknownFrom, unknownUntil);
    if (offFrom < next) put(offFrom, OFF);
  }
  return canonicalTimeline(x.start, x.end, times.subarray(0, written), states.subarray(0, written));
}

/** @throws RangeError when a barrier ends before it begins. */
function requireBarriers(barriers: readonly Interval[]): void {
  const wrong = barriers.find((one) => !(one.from <= one.to));
  if (wrong !== undefined) throw new RangeError(`A barrier must not end before it begins: [${wrong.from}, ${wrong.to}).`);
}

/** Whether a barrier lies wholly before the instant. An empty barrier at the instant itself does not. */
function isOver(barrier: Interval, instant: number): boolean {
  return barrier.from === barrier.to ? barrier.to < instant : barrier.to <= instant;
}

/** Whether a barrier begins before the unknown stretch ends at `to`, or at `to` if it is empty. */
function beginsBefore(barrier: Interval, to: number): boolean {
  return barrier.from === barrier.to ? barrier.from <= to : barrier.from < to;
}
