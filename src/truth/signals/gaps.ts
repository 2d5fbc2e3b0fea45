import { intersection, type Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";

/**
 * Shorter stretches without a reading are ignored (milliseconds): even a busy house pauses that long. Our own choice.
 */
export const LEAST_GAP_MS = HOUR_MS;
/**
 * A stretch that stands out is at least this many times as long as the longest other one: no night is twice as long as
 * another. Our own choice.
 */
export const LEAST_FACTOR = 2;
/** At most this many stretches stand out in one history; more are normal there. Our own choice. */
const MOST_OUTSTANDING = 5;
/**
 * The rest of the history is at least this many times the longest other stretch: it had that many chances to be as
 * long. Our own choice.
 */
const FEWEST_CHANCES = 10;

/** Which stretches stand out, and how long the longest of the others is (at least {@link LEAST_GAP_MS}). */
interface Outstanding {
  readonly stretches: readonly Interval[];
  readonly usualMs: number;
}

/**
 * The stretches of {@link LEAST_GAP_MS} or longer without a reading, in order; also the time before the first reading
 * (from −Infinity) and after the last (to Infinity). Without any reading it is all of time.
 */
export function longGaps(times: Float64Array): Interval[] {
  const [first] = times;
  if (first === undefined) return [{ from: -Infinity, to: Infinity }];
  const gaps: Interval[] = [{ from: -Infinity, to: first }];
  let last = first;
  for (const at of times) {
    if (at - last >= LEAST_GAP_MS) gaps.push({ from: last, to: at });
    last = at;
  }
  gaps.push({ from: last, to: Infinity });
  return gaps;
}

/**
 * Where every list has a gap at the same time, for {@link LEAST_GAP_MS} or longer, in order. Lists in order and
 * disjoint.
 */
export function commonGaps(lists: readonly (readonly Interval[])[]): Interval[] {
  const always: Interval[] = [{ from: -Infinity, to: Infinity }];
  return lists.reduce((common, list) => intersection(common, list), always).filter(({ from, to }) => to - from >= LEAST_GAP_MS);
}

/**
 * Of the stretches in which a group of signals said nothing, those much longer than all others: at most five, each
 * twice as long as the longest of the others (a pause of an hour is always usual), in a history whose rest is ten times
 * as long as that, and of which they fill less than half. So a contact that moves twice a week, or a house used at
 * weekends, has none. `end`: the last reading of anything; a stretch without end is cut there. The time before the
 * group's first reading does not count. `usualMs` is given even if nothing stands out.
 */
export function outstanding(gaps: readonly Interval[], end: number): Outstanding {
  const begin = gaps[0]?.from === -Infinity ? gaps[0].to : (gaps[0]?.from ?? end);
  const length = ({ from, to }: Interval): number => Math.min(to, end) - from;
  const longestFirst = gaps.filter((gap) => gap.from > -Infinity && length(gap) >= LEAST_GAP_MS).toSorted((a, b) => length(b) - length(a));
  const usualAfter = (count: number): number => Math.max(LEAST_GAP_MS, longestFirst[count] === undefined ? 0 : length(longestFirst[count]));
  for (let count = Math.min(MOST_OUTSTANDING, longestFirst.length); count > 0; count -= 1) {
    const usualMs = usualAfter(count);
    const lengths = longestFirst.slice(0, count).map(length);
    const filled = lengths.reduce((sum, ms) => sum + ms, 0);
    const rest = end - begin - filled;
    if (Math.min(...lengths) < LEAST_FACTOR * usualMs || rest < FEWEST_CHANCES * usualMs || filled > rest) continue;
    return { stretches: longestFirst.slice(0, count).toSorted((a, b) => a.from - b.from), usualMs };
  }
  return { stretches: [], usualMs: usualAfter(0) };
}
