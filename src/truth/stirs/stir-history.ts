/* eslint-disable @typescript-eslint/no-non-null-assertion -- places in lists that hold them, walked below their length */
import { union, type Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { MINUTE_MS } from "../../ground/units.js";
import { medianOf } from "../../statistics/median.js";
import { any } from "../../timeline/any.js";
import { durations } from "../../timeline/durations.js";
import { stretches } from "../../timeline/stretches.js";
import { ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { Stir } from "../reference/witness.js";
import type { DoorUse } from "./door-uses.js";
import type { Silence } from "./usual-silence.js";

/** All that a person's stir signals say together. */
export interface StirHistory {
  readonly stirs: readonly Stir[];
  /** When somebody surely stirred: in order and disjoint; a single instant where a sensor only held. */
  readonly active: readonly Interval[];
  /** When nobody could have been noticed, in order. */
  readonly dark: readonly Interval[];
  /** Whether somebody stirred at some instant of `[from, to]`. */
  readonly stirredIn: (from: number, to: number) => boolean;
  /** The end of the last stirring at or before the instant; −Infinity without any. */
  readonly lastBefore: (instant: number) => number;
  /** The stirrings that lie in `[from, to]` at least partly, in order. */
  readonly activeIn: (from: number, to: number) => readonly Interval[];
  /** How many times somebody stirred in `[from, to]`, those less than half an hour apart being one. */
  readonly clumpsIn: (from: number, to: number) => number;
}

/** A signal that was dark for more of the period than this is left out: it would make its fellows' silence worthless. Our own choice. */
const MOST_DARK_SHARE = 0.5;
/** A sensor says that it notices somebody for its hold time after the last movement: at most this (milliseconds). Our own choice. */
const LONGEST_HOLD_MS = 5 * MINUTE_MS;
/** Stirs less far apart are one going about (milliseconds): a robot's round is not forty visits. Our own choice. */
const CLUMP_MS = 30 * MINUTE_MS;

/** Null where no signal was heard for long enough. */
export function stirHistory(all: readonly Stir[]): StirHistory | null {
  const stirs = all.filter(({ heard }) => durations(heard).unknownMs <= MOST_DARK_SHARE * (heard.end - heard.start));
  if (stirs.length === 0) return null;
  const active = merged(stirs.flatMap(({ heard }) => activeOf(heard)));
  const ends = Float64Array.from(active, ({ to }) => to);
  const dark = stretches(any(stirs.map(({ heard }) => heard)), UNKNOWN);
  /** The first that ends at or after the instant. */
  const firstFrom = (instant: number): number => firstAtOrAfter(ends, instant);
  const begins = Float64Array.from(active, ({ from }) => from);
  const activeIn = (from: number, to: number): readonly Interval[] => active.slice(firstFrom(from), firstAtOrAfter(begins, to + 1));
  return {
    stirs,
    active,
    dark,
    stirredIn: (from, to) => {
      const next = active[firstFrom(from)];
      return next !== undefined && next.from <= to;
    },
    lastBefore: (instant) => {
      const place = firstFrom(instant);
      const next = active[place];
      return next !== undefined && next.from <= instant ? instant : (ends[place - 1] ?? -Infinity);
    },
    activeIn,
    clumpsIn: (from, to) => {
      let [count, last] = [0, -Infinity];
      for (const one of activeIn(from, to)) {
        if (one.from - last >= CLUMP_MS) count += 1;
        last = one.to;
      }
      return count;
    },
  };
}

/** From the first movement of each stretch of "on" to the last: what follows is the sensor's hold time. */
function activeOf(heard: Timeline): Interval[] {
  const on = stretches(heard, ON);
  const holdMs = Math.min(LONGEST_HOLD_MS, medianOf(on.map(({ from, to }) => to - from)) ?? 0);
  return on.map(({ from, to }) => ({ from, to: Math.max(from, to - holdMs) }));
}

/** As a union, but single instants stay. */
function merged(intervals: readonly Interval[]): Interval[] {
  const out: Interval[] = [];
  for (const one of intervals.toSorted((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (last === undefined || one.from > last.to) out.push(one);
    else out[out.length - 1] = { from: last.from, to: Math.max(last.to, one.to) };
  }
  return out;
}

/** A silence with what stands at its ends. */
export interface Lull extends Interval {
  readonly begins: "stir" | "door" | "dark";
  readonly ends: "stir" | "door" | "dark";
}

/** Every silence between two stirs, door uses or dark stretches, in order; those of no length are left out. */
export function lullsOf({ active, dark }: Pick<StirHistory, "active" | "dark">, uses: readonly DoorUse[], period: Interval): Lull[] {
  const marks = [
    ...active.map(({ from, to }) => ({ from, to, what: "stir" as const })),
    ...uses.map(({ opened, shut }) => ({ from: opened, to: shut, what: "door" as const })),
    ...union(dark).map(({ from, to }) => ({ from, to, what: "dark" as const })),
    { from: -Infinity, to: period.from, what: "dark" as const },
    { from: period.to, to: Infinity, what: "dark" as const },
  ].sort((a, b) => a.from - b.from || a.to - b.to);
  const lulls: Lull[] = [];
  let last = marks[0]!;
  for (const mark of marks.slice(1)) {
    if (mark.from > last.to) lulls.push({ from: last.to, to: mark.from, begins: last.what, ends: mark.what });
    if (mark.to >= last.to) last = mark;
  }
  return lulls;
}

/**
 * The silences that are known to be at home: whoever stirs at the end of one was there all through, since no door moved in
 * between. One that a door ends was at home up to there, if somebody stirred at its beginning. Unless it was a pet or a robot that
 * stirred: `atHome` says how likely somebody was there.
 */
export function homeSilences(lulls: readonly Lull[], atHome: (instant: number) => number): Silence[] {
  return lulls.flatMap(({ from, to, begins, ends }) =>
    begins === "dark" || ends === "dark" || (begins === "door" && ends === "door")
      ? []
      : [{ from, ms: to - from, ended: ends === "stir", weight: atHome((from + to) / 2) }],
  );
}
