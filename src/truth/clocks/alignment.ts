/* eslint-disable @typescript-eslint/no-non-null-assertion --
   differences of many turns are counted by the minute: each index runs below the length of its list, and counts hold
   every minute */
import { pairedTurns, type PairedTurn, type Watchers } from "./paired-turns.js";
import { HOUR_MS, MINUTE_MS } from "../../ground/units.js";

/** Zones differ by multiples of this, and so does a source read in the wrong zone. Milliseconds. */
const ZONE_STEP_MS = 30 * MINUTE_MS;
/** Clocks are taken to be at most this far apart: further than any zone is from UTC. Milliseconds. */
const FURTHEST_MS = 14 * HOUR_MS;
/**
 * Another alignment must make more than this many times as many pairs as none. Our own choice: routines repeat, and
 * half of a day's changes may fit by chance.
 */
const CLEARLY_MORE = 2;
/**
 * And it must pair more than this share of what could be paired, to on and to off each: some alignment always fits a
 * few. Our own choice.
 */
const ENOUGH_SHARE = 0.5;
/**
 * A door moves so often that any alignment finds something within `join`; a second try uses this window. Our own
 * choice. Milliseconds.
 */
const NARROW_MS = 2 * MINUTE_MS;
/**
 * The likeliest shift is sought with at most about this many turns of the first signal: enough for a peak, and bounded.
 */
const MOST_SOUGHT = 2_000;

interface Aligned {
  readonly shiftMs: number;
  readonly turns: readonly PairedTurn[];
  /** How many pairs to off and to on there could be: the turns of whichever of two signals has fewer. */
  readonly possible: readonly [number, number];
}

/**
 * The paired turns of the best pair of signals of each subject, at the alignment that fits all subjects together best,
 * by instant. It tries no shift; every half hour up to {@link FURTHEST_MS} either way; and the shift at which most
 * turns lie close to one another (a clock set wrong by seventeen minutes is at no half hour). A shift needs
 * {@link CLEARLY_MORE} times as many pairs as none, and {@link ENOUGH_SHARE} of all possible ones in both directions,
 * within `windowMs` or {@link NARROW_MS}.
 */
export function bestAligned(watchers: readonly Watchers[], subjects: readonly string[], windowMs: number): PairedTurn[] {
  const shifts = [...halfHours(), ...likeliestShifts(watchers, subjects, windowMs)];
  const most = subjects.reduce(
    (sum, subject) =>
      sum + Math.max(...watchers.filter((one) => one.subject === subject).map((one) => possiblePairs(one, 0) + possiblePairs(one, 1))),
    0,
  );
  const plain = alignedBy(watchers, subjects, windowMs, 0);
  for (const width of new Set([windowMs, Math.min(windowMs, NARROW_MS)])) {
    const unmoved = width === windowMs ? plain : alignedBy(watchers, subjects, width, 0);
    if (CLEARLY_MORE * unmoved.turns.length >= most) continue;
    // A shift within the window is no other alignment: such pairs are found without it.
    const moved = shifts.filter((shiftMs) => Math.abs(shiftMs) > windowMs).map((shiftMs) => alignedBy(watchers, subjects, width, shiftMs));
    const best = moved.reduce((fullest, one) => (one.turns.length > fullest.turns.length ? one : fullest), unmoved);
    if (best.turns.length <= CLEARLY_MORE * unmoved.turns.length || !pairsEnough(best)) continue;
    return [...alignedBy(watchers, subjects, windowMs, best.shiftMs).turns];
  }
  return [...plain.turns];
}

function halfHours(): number[] {
  const steps = FURTHEST_MS / ZONE_STEP_MS;
  return Array.from({ length: 2 * steps + 1 }, (_, i) => (i - steps) * ZONE_STEP_MS);
}

function alignedBy(watchers: readonly Watchers[], subjects: readonly string[], windowMs: number, shiftMs: number): Aligned {
  const possible: [number, number] = [0, 0];
  const turns = subjects.flatMap((subject) => {
    const each = watchers.filter((one) => one.subject === subject).map((one) => ({ one, turns: pairedTurns(one, windowMs, shiftMs) }));
    const best = each.reduce((most, other) => (other.turns.length > most.turns.length ? other : most));
    for (const to of [0, 1] as const) possible[to] += possiblePairs(best.one, to);
    return best.turns;
  });
  return { shiftMs, turns: turns.sort((a, b) => a.at - b.at), possible };
}

function possiblePairs({ first, second }: Watchers, to: 0 | 1): number {
  return Math.min(first[to].length, second[to].length);
}

/**
 * A clock moves arrivals and departures alike: an alignment that fits only one of them is a sensor that is always late.
 */
function pairsEnough({ turns, possible }: Aligned): boolean {
  return ([0, 1] as const).every((to) => turns.filter((turn) => turn.to === to).length > ENOUGH_SHARE * possible[to]);
}

/**
 * The commonest differences between turns in one direction, to the minute: over all subjects, and over each alone,
 * since one busy subject may drown the rest. Counts differences in windows of `windowMs`; takes the middle of the
 * fullest.
 */
function likeliestShifts(watchers: readonly Watchers[], subjects: readonly string[], windowMs: number): number[] {
  const bySubject = subjects.map((subject) => differences(watchers.filter((one) => one.subject === subject)));
  const [first] = bySubject;
  if (first === undefined) return [];
  const together = first.map((_, minute) => bySubject.reduce((sum, counts) => sum + counts[minute]!, 0));
  return [together, ...(bySubject.length > 1 ? bySubject : [])].map((counts) =>
    fullestWindow(counts, Math.max(1, Math.round(windowMs / MINUTE_MS))),
  );
}

/** How many pairs of turns are how many minutes apart; index 0 stands for {@link FURTHEST_MS} early. */
function differences(watchers: readonly Watchers[]): Float64Array {
  const counts = new Float64Array((2 * FURTHEST_MS) / MINUTE_MS + 1);
  for (const { first, second } of watchers) {
    for (const to of [0, 1] as const) {
      const stride = Math.ceil(first[to].length / MOST_SOUGHT);
      let from = 0;
      for (let i = 0; i < first[to].length; i += stride) {
        const at = first[to][i]!;
        while (from < second[to].length && second[to][from]! < at - FURTHEST_MS) from += 1;
        for (let j = from; j < second[to].length && second[to][j]! <= at + FURTHEST_MS; j += 1)
          counts[Math.round((second[to][j]! - at + FURTHEST_MS) / MINUTE_MS)]! += 1;
      }
    }
  }
  return counts;
}

/**
 * The middle of the window of `width` minutes that holds most; of several in a row the middle one. Milliseconds of
 * shift.
 */
function fullestWindow(counts: Float64Array, width: number): number {
  let [inside, most, first, last] = [0, 0, 0, 0];
  counts.forEach((count, end) => {
    inside += count - (counts[end - width] ?? 0);
    if (inside > most) [most, first, last] = [inside, end, end];
    else if (inside === most && end === last + 1) last = end;
  });
  return Math.round((first + last - width + 1) / 2) * MINUTE_MS - FURTHEST_MS;
}
