import type { Interval } from "../../ground/intervals.js";

/** Shorter stretches without a reading are never looked at (milliseconds): even a busy house pauses for as long. Our own choice. */
export const LEAST_GAP_MS = 3_600_000;
/** What stands out is at least this many times as long as the longest of the others. Our own choice; a night is not twice another. */
export const LEAST_FACTOR = 2;
/** At most so many stretches stand out in one history; more are how things are there. Our own choice. */
const MOST_OUTSTANDING = 5;
/** The rest of the history is at least this many times the longest other stretch: so often could there have been one as long. Our own choice. */
const FEWEST_CHANCES = 10;

/** Which stretches stand out, and how long the longest of the others is (at least {@link LEAST_GAP_MS}). */
export interface Outstanding {
  readonly stretches: readonly Interval[];
  readonly usualMs: number;
}

/**
 * The stretches of {@link LEAST_GAP_MS} or longer without a reading, in order, with those before the first (from −Infinity) and after the
 * last (to Infinity). All of time without readings.
 */
export function longGaps(times: Float64Array): Interval[] {
  if (times.length === 0) return [{ from: -Infinity, to: Infinity }];
  const gaps: Interval[] = [{ from: -Infinity, to: times[0]! }];
  for (let i = 1; i < times.length; i += 1) {
    if (times[i]! - times[i - 1]! >= LEAST_GAP_MS) gaps.push({ from: times[i - 1]!, to: times[i]! });
  }
  gaps.push({ from: times.at(-1)!, to: Infinity });
  return gaps;
}

/** The stretches that lie in a gap of every list, of {@link LEAST_GAP_MS} or longer, in order. Lists in order and disjoint; linear in each. */
export function commonGaps(lists: readonly (readonly Interval[])[]): Interval[] {
  return lists.reduce<readonly Interval[]>((common, list) => commonOfTwo(common, list), [{ from: -Infinity, to: Infinity }]).slice();
}

function commonOfTwo(one: readonly Interval[], other: readonly Interval[]): Interval[] {
  const common: Interval[] = [];
  let [a, b] = [0, 0];
  while (a < one.length && b < other.length) {
    const [from, to] = [Math.max(one[a]!.from, other[b]!.from), Math.min(one[a]!.to, other[b]!.to)];
    if (to - from >= LEAST_GAP_MS) common.push({ from, to });
    if (one[a]!.to < other[b]!.to) a += 1;
    else b += 1;
  }
  return common;
}

/**
 * Of the stretches in which a group of signals said nothing, those far longer than it ever was silent else: at most five, each twice as
 * long as the longest of the others (a pause of an hour counts as usual anyway), in a history whose rest is ten times as long as
 * that and in which they do not fill the half. So a contact that moves twice a week, or a house that is used at weekends, has none.
 * `end`: the last reading of anything, at which a stretch without end is cut. The time before the group's first reading is none. `usualMs` is
 * the bar when nothing stands out, too.
 */
export function outstanding(gaps: readonly Interval[], end: number): Outstanding {
  const begin = gaps[0]?.from === -Infinity ? gaps[0].to : (gaps[0]?.from ?? end);
  const length = ({ from, to }: Interval): number => Math.min(to, end) - from;
  const longestFirst = gaps.filter((gap) => gap.from > -Infinity && length(gap) >= LEAST_GAP_MS).toSorted((a, b) => length(b) - length(a));
  const usualAfter = (count: number): number => Math.max(LEAST_GAP_MS, longestFirst[count] === undefined ? 0 : length(longestFirst[count]));
  for (let count = Math.min(MOST_OUTSTANDING, longestFirst.length); count > 0; count -= 1) {
    const usualMs = usualAfter(count);
    const filled = longestFirst.slice(0, count).reduce((sum, gap) => sum + length(gap), 0);
    const rest = end - begin - filled;
    if (length(longestFirst[count - 1]!) < LEAST_FACTOR * usualMs || rest < FEWEST_CHANCES * usualMs || filled > rest) continue;
    return { stretches: longestFirst.slice(0, count).toSorted((a, b) => a.from - b.from), usualMs };
  }
  return { stretches: [], usualMs: usualAfter(0) };
}
