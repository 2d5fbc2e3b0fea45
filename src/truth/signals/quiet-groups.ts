import type { SignalSpec } from "../../site/site.js";
import { LEAST_FACTOR, LEAST_GAP_MS, commonGaps, outstanding } from "./quiet.js";
import type { Interval } from "../../ground/intervals.js";

/** What fell quiet: everything that depends on a shared cause, all of a source, or all of the site. */
export type QuietWhat = { readonly form: "site" } | { readonly form: "source" | "cause"; readonly name: string };

/** A stretch in which nothing of a group was heard for far longer than it ever was silent else. */
export interface Quiet extends Interval {
  readonly what: QuietWhat;
  /** Those of the group that were ever heard. */
  readonly signals: readonly string[];
  /** The longest the group was quiet else. */
  readonly usualMs: number;
  /** How long the quiet must have lasted before a system that watches for it could tell. */
  readonly noticedMs: number;
}

/** As much of a signal as it takes. */
export interface Hearing {
  readonly spec: Pick<SignalSpec, "id" | "source" | "shares" | "expectMs">;
  /** See `longGaps`. */
  readonly gaps: readonly Interval[];
  /** Whether it said both on and off in a stretch, the word before it included: somebody was about. */
  readonly turnedIn: (stretch: Interval) => boolean;
}

/** How long a quiet must last to count: at the least (milliseconds), and in times of the longest other. */
interface Bar {
  readonly leastMs: number;
  readonly factor: number;
}

/**
 * Our own choices. Of a group with two periodic signals a quiet is no habit of the house. While other signals of the site
 * turned, people were about. Else all may have been away: nobody can tell an outage from that, but a weekend away, from Friday
 * evening to Sunday night, is shorter than this. Measured on invented months, see docs/method.md.
 */
const BARS = {
  periodic: { leastMs: 3 * 3_600_000, factor: 3 },
  peopleAbout: { leastMs: 6 * 3_600_000, factor: 3 },
  nobodyKnows: { leastMs: 60 * 3_600_000, factor: LEAST_FACTOR },
} as const satisfies Readonly<Record<string, Bar>>;
/** One sensor by itself may have nothing to say. */
const FEWEST_SIGNALS = 2;

/**
 * The quiets of every shared cause, every source and the whole site, the widest group first and in time order within one. Groups of the same
 * signals count once. `end`: the last reading of anything.
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
      return Math.min(stretch.to, end) - stretch.from < noticedMs ? [] : [{ ...stretch, what, signals: members.map(({ spec }) => spec.id), usualMs, noticedMs }];
    });
  });
}

function barOf(members: readonly Hearing[], others: readonly Hearing[], stretch: Interval): Bar {
  if (members.filter(({ spec }) => spec.expectMs !== null).length >= FEWEST_SIGNALS) return BARS.periodic;
  // Whoever leaves or comes home moves sensors of several groups within minutes: that is the edge of the quiet, not its middle.
  const middle = { from: stretch.from + LEAST_GAP_MS, to: stretch.to - LEAST_GAP_MS };
  return others.some((one) => one.turnedIn(middle)) ? BARS.peopleAbout : BARS.nobodyKnows;
}

function groupsOf(heard: readonly Hearing[]): { what: QuietWhat; members: readonly Hearing[] }[] {
  const named = (form: "source" | "cause", namesOf: (one: Hearing) => readonly string[]) =>
    [...new Set(heard.flatMap(namesOf))].map((name) => ({ what: { form, name }, members: heard.filter((one) => namesOf(one).includes(name)) }));
  return [{ what: { form: "site" }, members: heard }, ...named("source", ({ spec }) => [spec.source]), ...named("cause", ({ spec }) => spec.shares)];
}
