/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps or of instants */
import { requireDuration } from "./held.js";
import { canonicalTimeline } from "./make.js";
import { OFF, ON, UNKNOWN, type Timeline } from "./timeline.js";
import { turned, type TurnOptions } from "./turned.js";

/**
 * "On ever since `y` turned `to`", not counting the first `graceMs` after the turn: the past-time operator *since* of
 * temporal logic, with three values. At `t` it is the best, over all instants `u` with `u + graceMs <= t`, of the worse of two
 * things: whether `y` turned at `u` (on at a turn, unknown all through a stretch in which `y` is unknown, its ends included, and
 * before the start; else off), and whether `x` was on throughout `[u + graceMs, t]` (as in {@link held}). So a turn that may
 * have gone unseen never makes it on, and a silence of `x` never does either. Linear in the steps of both.
 * @throws RangeError as {@link turned}, when the two do not share start and end, or the grace is negative or not a number.
 */
export function since(x: Timeline, y: Timeline, to: typeof OFF | typeof ON, graceMs: number, options: TurnOptions): Timeline {
  requireDuration(graceMs);
  if (x.start !== y.start || x.end !== y.end) {
    throw new RangeError(`Timelines must cover the same time: [${x.start}, ${x.end}) and [${y.start}, ${y.end}).`);
  }
  // A turn counts from `graceMs` after it on: from here on all instants are moved by that.
  const turns = turned(y, to, options).map(({ at }) => at + graceMs);
  const unseen = unseenStretches(y).map(({ from, to: until }) => ({ from: from + graceMs, to: until + graceMs }));
  const instants = Float64Array.from([...x.times, ...turns, ...unseen.map(({ from }) => from)].filter((at) => at >= x.start && at < x.end)).sort();
  const states = new Uint8Array(instants.length);
  let [step, turn, blind] = [0, 0, 0];
  // Since when `x` has been on, and since when it has not been off; Infinity while it is otherwise.
  let [onSince, possibleSince] = [Infinity, Infinity];
  let entered = -1;
  for (let i = 0; i < instants.length; i += 1) {
    const at = instants[i]!;
    while (step + 1 < x.times.length && x.times[step + 1]! <= at) step += 1;
    if (entered !== step) {
      entered = step;
      const state = x.states[step];
      const from = step === 0 ? -Infinity : x.times[step]!;
      onSince = state === ON ? x.times[step]! : Infinity;
      possibleSince = state === OFF ? Infinity : Math.min(possibleSince, from);
    }
    while (turn < turns.length && turns[turn]! <= at) turn += 1;
    while (blind < unseen.length && unseen[blind]!.from <= at) blind += 1;
    const lastTurn = turns[turn - 1] ?? -Infinity;
    const lastBlind = Math.min(unseen[blind - 1]?.to ?? -Infinity, at);
    states[i] = lastTurn >= onSince ? ON : Math.max(lastTurn, lastBlind) >= possibleSince ? UNKNOWN : OFF;
  }
  return canonicalTimeline(x.start, x.end, instants, states);
}

/** When a turn may have gone unseen, both ends included: before the start, and while nothing is known. */
function unseenStretches({ start, end, times, states }: Timeline): { readonly from: number; readonly to: number }[] {
  const unseen = [{ from: -Infinity, to: start }];
  for (let i = 0; i < times.length; i += 1) if (states[i] === UNKNOWN) unseen.push({ from: times[i]!, to: times[i + 1] ?? end });
  return unseen;
}
