import { intersection, type Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";
import type { SignalSpec } from "../../site/site.js";

/**
 * Shorter stretches without a reading are ignored (milliseconds): even a busy house pauses that long. Our own choice.
 */
const LEAST_GAP_MS = HOUR_MS;
/**
 * A stretch that stands out is at least this many times as long as the longest other one: no night is twice as long as
 * another. Our own choice.
 */
const LEAST_FACTOR = 2;
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

/** What fell quiet: everything that depends on a shared cause, all of a source, or all of the site. */
export type QuietWhat = { readonly form: "site" } | { readonly form: "source" | "cause"; readonly name: string };

/** A stretch in which nothing of a group was heard for much longer than at any other time. */
export interface Quiet extends Interval {
  readonly what: QuietWhat;
  /** The signals of the group that were ever heard. */
  readonly signals: readonly string[];
  /** The longest that the group was quiet otherwise. */
  readonly usualMs: number;
  /** How long the quiet must last before a system that watches for it could tell. */
  readonly noticedMs: number;
}

/** What must be known of a signal to find quiets. */
export interface Hearing {
  readonly spec: Pick<SignalSpec, "id" | "source" | "shares" | "expectMs">;
  /** See `longGaps`. */
  readonly gaps: readonly Interval[];
  /** Whether it said both on and off in a stretch, counting its last word before it: somebody was about. */
  readonly turnedIn: (stretch: Interval) => boolean;
}

/** How long a quiet must last to count: in milliseconds, and as a multiple of the longest other one. */
interface Bar {
  readonly leastMs: number;
  readonly factor: number;
}

/**
 * Our own choices, measured on invented months (docs/method.md). A group with two periodic signals is not quiet by
 * habit. If other signals of the site turned, people were about. Otherwise all may have been away: an outage looks the
 * same, but a weekend away, from Friday evening to Sunday night, is shorter than this.
 */
const BARS = {
  periodic: { leastMs: 3 * HOUR_MS, factor: 3 },
  peopleAbout: { leastMs: 6 * HOUR_MS, factor: 3 },
  nobodyKnows: { leastMs: 60 * HOUR_MS, factor: LEAST_FACTOR },
} as const satisfies Readonly<Record<string, Bar>>;
/** One sensor by itself may have nothing to say. */
const FEWEST_SIGNALS = 2;

/**
 * The quiets of every shared cause, every source and the whole site, the widest group first, in time order within one.
 * Groups of the same signals count once. `end`: the last reading of anything.
 */
export function quietsOf(hearings: readonly Hearing[], end: number): Quiet[] {
  const heard = hearings.filter(({ gaps }) => gaps.length > 1);
  const seen = new Set<string>();
  return groupsOf(heard).flatMap(({ what, members }) => {
    const key = JSON.stringify(members.map(({ spec }) => spec.id));
    if (members.length < FEWEST_SIGNALS || seen.has(key)) return [];
    seen.add(key);
    const { stretches, usualMs } = outstanding(commonGaps(members.map(({ gaps }) => gaps)), end);
    const others = heard.filter((one) => !members.includes(one));
    return stretches.flatMap((stretch): Quiet[] => {
      const bar = barOf(members, others, stretch);
      const noticedMs = Math.max(bar.leastMs, bar.factor * usualMs);
      if (Math.min(stretch.to, end) - stretch.from < noticedMs) return [];
      return [{ ...stretch, what, signals: members.map(({ spec }) => spec.id), usualMs, noticedMs }];
    });
  });
}

function barOf(members: readonly Hearing[], others: readonly Hearing[], stretch: Interval): Bar {
  if (members.filter(({ spec }) => spec.expectMs !== null).length >= FEWEST_SIGNALS) return BARS.periodic;
  // People who leave or come home move sensors of several groups within minutes: the edge of the quiet, not its middle.
  const middle = { from: stretch.from + LEAST_GAP_MS, to: stretch.to - LEAST_GAP_MS };
  return others.some((one) => one.turnedIn(middle)) ? BARS.peopleAbout : BARS.nobodyKnows;
}

function groupsOf(heard: readonly Hearing[]): { what: QuietWhat; members: readonly Hearing[] }[] {
  const named = (form: "source" | "cause", namesOf: (one: Hearing) => readonly string[]) =>
    [...new Set(heard.flatMap(namesOf))].map((name) => ({
      what: { form, name },
      members: heard.filter((one) => namesOf(one).includes(name)),
    }));
  return [
    { what: { form: "site" }, members: heard },
    ...named("source", ({ spec }) => [spec.source]),
    ...named("cause", ({ spec }) => spec.shares),
  ];
}
