import { pairedTurns, type PairedTurn, type Watchers } from "./paired-turns.js";
import { MINUTE_MS } from "../../ground/units.js";

/** Zones differ by multiples of this; a source read in the wrong zone is off by some of them. Milliseconds. */
const ZONE_STEP_MS = 30 * MINUTE_MS;
/** The furthest apart that two clocks are looked for: further than any zone is from UTC. Milliseconds. */
export const FURTHEST_MS = 14 * 60 * MINUTE_MS;
/** Another alignment is believed over none only with so many times as many pairs. Our own choice: routines repeat, and half of a day's changes may fit by chance. */
const CLEARLY_MORE = 2;
/** And only if it pairs more than this share of what could be paired at all, to on and to off each: some alignment always fits a few. Our own choice. */
const ENOUGH_SHARE = 0.5;
/** A door moves so often that any alignment finds something within `join`; a second look is this narrow. Our own choice. Milliseconds. */
const NARROW_MS = 2 * MINUTE_MS;
/** Turns of the first signal that are held against all of the second's when the likeliest shift is looked for: enough for a peak, and bounded. */
const MOST_SOUGHT = 2_000;

interface Aligned {
  readonly shiftMs: number;
  readonly turns: readonly PairedTurn[];
  /** How many pairs to off and to on there could be: the turns of whichever of two signals has fewer. */
  readonly possible: readonly [number, number];
}

/**
 * The paired turns of the best pair of signals a subject, at the alignment that all subjects together like best, by instant.
 * Tried are: none; every half hour up to {@link FURTHEST_MS} either way; and the shift at which most turns lie close to one another
 * (a clock set wrong by seventeen minutes is at no half hour). Another one than none needs {@link CLEARLY_MORE} times as many pairs and
 * {@link ENOUGH_SHARE} of all possible ones in both directions, within `windowMs` or within {@link NARROW_MS}.
 */
export function bestAligned(watchers: readonly Watchers[], subjects: readonly string[], windowMs: number): PairedTurn[] {
  const shifts = [...halfHours(), ...likeliestShifts(watchers, subjects, windowMs)];
  const most = subjects.reduce((sum, subject) => sum + Math.max(...watchers.filter((one) => one.subject === subject).map((one) => possiblePairs(one, 0) + possiblePairs(one, 1))), 0);
  const plain = alignedBy(watchers, subjects, windowMs, 0);
  for (const width of new Set([windowMs, Math.min(windowMs, NARROW_MS)])) {
    const unmoved = width === windowMs ? plain : alignedBy(watchers, subjects, width, 0);
    if (CLEARLY_MORE * unmoved.turns.length >= most) continue;
    // Shifts within the window are none: pairs so far apart are found unmoved.
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

/** A clock moves arrivals and departures alike: an alignment that fits one of them alone is a sensor that is late by nature. */
function pairsEnough({ turns, possible }: Aligned): boolean {
  return ([0, 1] as const).every((to) => turns.filter((turn) => turn.to === to).length > ENOUGH_SHARE * possible[to]);
}

/**
 * Where the differences between turns in one direction lie thickest, to the minute: over all subjects and over each alone, for one
 * busy subject may drown the rest. Counts differences in windows of `windowMs`; the middle of the thickest is taken.
 */
function likeliestShifts(watchers: readonly Watchers[], subjects: readonly string[], windowMs: number): number[] {
  const bySubject = subjects.map((subject) => differences(watchers.filter((one) => one.subject === subject)));
  if (bySubject.length === 0) return [];
  const together = bySubject[0]!.map((_, minute) => bySubject.reduce((sum, counts) => sum + counts[minute]!, 0));
  return [together, ...(bySubject.length > 1 ? bySubject : [])].map((counts) => thickest(counts, Math.max(1, Math.round(windowMs / MINUTE_MS))));
}

/** How many pairs of turns are so many minutes apart; index 0 stands for {@link FURTHEST_MS} early. */
function differences(watchers: readonly Watchers[]): Float64Array {
  const counts = new Float64Array((2 * FURTHEST_MS) / MINUTE_MS + 1);
  for (const { first, second } of watchers) {
    for (const to of [0, 1] as const) {
      const stride = Math.ceil(first[to].length / MOST_SOUGHT);
      let from = 0;
      for (let i = 0; i < first[to].length; i += stride) {
        const at = first[to][i]!;
        while (from < second[to].length && second[to][from]! < at - FURTHEST_MS) from += 1;
        for (let j = from; j < second[to].length && second[to][j]! <= at + FURTHEST_MS; j += 1) counts[Math.round((second[to][j]! - at + FURTHEST_MS) / MINUTE_MS)]! += 1;
      }
    }
  }
  return counts;
}

/** The middle of the window of `width` minutes that holds most; of several in a row the one in the middle. Milliseconds of shift. */
function thickest(counts: Float64Array, width: number): number {
  let [inside, most, first, last] = [0, 0, 0, 0];
  counts.forEach((count, end) => {
    inside += count - (counts[end - width] ?? 0);
    if (inside > most) [most, first, last] = [inside, end, end];
    else if (inside === most && end === last + 1) last = end;
  });
  return Math.round((first + last - width + 1) / 2) * MINUTE_MS - FURTHEST_MS;
}
