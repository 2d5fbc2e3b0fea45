import { all } from "../../timeline/all.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { timelineOfPart } from "../rule/evaluate.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { totalMs } from "../../ground/intervals.js";
import type { LocalDay } from "./local-days.js";

/** A day counts as seen when at least this share of it was. Our own choice. */
const LEAST_SEEN_OF_DAY = 0.5;
/** Monday to Sunday, by ISO 8601. */
const WEEKDAYS = [1, 2, 3, 4, 5, 6, 7];

/** What a rule's history covers. */
export interface Seen {
  /** Milliseconds during which every way of firing could be heard. */
  readonly ms: number;
  /** Local days of which at least half was seen. */
  readonly days: number;
  /** Their months, such as `2026-10`, in order. */
  readonly months: readonly string[];
  /** How many of them were Mondays, Tuesdays, ... */
  readonly weekdays: readonly number[];
  /** How many events fell on each local day that had any, largest first. */
  readonly eventsByDay: readonly number[];
}

/**
 * On while every way in which the rule can fire could be heard: each condition about a signal is known. A rule with two
 * phones of which one is silent is not seen, although the other phone still settles its condition: if the silent one
 * had come home, nobody would know what the rule had done.
 */
export function seenTimeline({ leaves, replayed }: Pick<RuleOverHistory, "leaves" | "replayed">): Timeline {
  const atoms = new Set(leaves.map((leaf) => leaf.atom));
  return all([...atoms].map((atom) => knownOf(timelineOfPart(atom, replayed.parts))));
}

/**
 * What a timeline made by {@link seenTimeline} covers, by the site's local days. `events` are instants, in any order.
 */
export function seenOf(seen: Timeline, events: readonly number[], localDays: readonly LocalDay[]): Seen {
  const known = stretches(seen, ON);
  const days = localDays.map((day) => ({ ...day, seenMs: 0, events: 0 }));
  const dayAt = (instant: number): number => days.findLastIndex((day) => day.from <= instant);
  for (const { from, to } of known) {
    for (const day of days.slice(dayAt(from))) {
      if (day.from >= to) break;
      day.seenMs += Math.min(to, day.to) - Math.max(from, day.from);
    }
  }
  for (const event of events) {
    const day = days[dayAt(event)];
    if (day !== undefined) day.events += 1;
  }
  const whole = days.filter((day) => day.seenMs >= LEAST_SEEN_OF_DAY * day.lengthMs);
  return {
    ms: totalMs(known),
    days: whole.length,
    months: [...new Set(whole.map((day) => day.month))],
    weekdays: WEEKDAYS.map((weekday) => whole.filter((day) => day.weekday === weekday).length),
    eventsByDay: days.map((day) => day.events).filter((count) => count > 0).sort((a, b) => b - a),
  };
}

function knownOf(x: Timeline): Timeline {
  return canonicalTimeline(x.start, x.end, x.times, x.states.map((state) => (state === UNKNOWN ? OFF : ON)));
}
