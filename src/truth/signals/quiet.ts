import type { Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";
import type { SignalSpec } from "../../site/site.js";
import { commonGaps, LEAST_FACTOR, LEAST_GAP_MS, outstanding } from "./gaps.js";

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
  const periodic = new Set(heard.filter(({ spec }) => spec.expectMs !== null).map(({ spec }) => spec.id));
  const found = groupsOf(heard).flatMap(({ what, members }) => {
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
  return found.filter((quiet) => !found.some((narrower) => explainsAway(narrower, quiet, periodic)));
}

/**
 * Where those who speak every few minutes are gone for longer, every night without a movement looks like an outage of all: what
 * the others are like without them is told by their own groups.
 */
function explainsAway(narrower: Quiet, wider: Quiet, periodic: ReadonlySet<string>): boolean {
  return (
    narrower.signals.length < wider.signals.length &&
    narrower.from < wider.from - LEAST_GAP_MS &&
    narrower.to >= wider.to &&
    narrower.signals.some((id) => periodic.has(id)) &&
    narrower.signals.every((id) => wider.signals.includes(id))
  );
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
