import { intersection, totalMs, type Interval } from "../../ground/intervals.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import { DIARY_EDGE_MS } from "../reference/priors.js";
import type { DoorUse } from "./door-uses.js";
import type { Lull, StirHistory } from "./stir-history.js";
import type { UsualSilence } from "./usual-silence.js";

/** What a boundary between two segments must tell: when, the use of a door that it is, and whether it is only an edge of the diary. */
export interface EdgeOfSegment {
  readonly instant: number;
  readonly use: DoorUse | null;
  readonly isDiaryEdge: boolean;
}

/** What was noticed of a person in one segment: 0 nothing, 1 something, 2 cannot tell. */
export interface SegmentStirs {
  /** Soon after the door shut with which the segment begins. */
  readonly after: 0 | 1 | 2;
  /** Just before the door opened with which it ends. */
  readonly before: 0 | 1 | 2;
  /** In between; null where nobody could tell. */
  readonly body: { readonly clumps: number; readonly ms: number; readonly logGivenOn: number } | null;
}

/** From this long after a door shut a stir is not that of the person who left (milliseconds): reports come late. Our own choice. */
const AFTER_FROM_MS = 10 * SECOND_MS;
/** Who came in has stirred within this time of the door (milliseconds). Our own choice. */
const AFTER_MS = 3 * MINUTE_MS;
/** Who opens the door from inside stirred within this time before (milliseconds). Our own choice. */
const BEFORE_MS = 2 * MINUTE_MS;
/** More goings about than this in one segment are no further evidence: they hang together. Our own choice. */
const MOST_CLUMPS = 3;
/** Silences longer than usual by this share and {@link LEAST_LULL_MS} may hide a way out that no door watches. Our own choices. */
const LULL_SHARE = 0.01;
const LEAST_LULL_MS = 20 * MINUTE_MS;
/** Nothing that a segment shows is taken to be rarer than this. Our own choice. */
const LEAST_LIKELY = 1e-6;
/** Shorter darkness is no boundary (milliseconds). Our own choice. */
const LEAST_DARK_MS = 5 * MINUTE_MS;

/** The ends of unusual silences that begin or end with a stir: a person may have come or gone there though no door tells. */
export function lullEdges(lulls: readonly Lull[], usual: UsualSilence): number[] {
  return lulls.flatMap(({ from, to, begins, ends }) => {
    if (to - from < LEAST_LULL_MS || begins === "dark" || ends === "dark" || (begins === "door" && ends === "door")) return [];
    if (usual.longerThan(from, to - from) >= LULL_SHARE) return [];
    return [...(begins === "stir" ? [from] : []), ...(ends === "stir" ? [to] : [])];
  });
}

/** Where darkness begins and ends inside the period. */
export function darkEdges({ dark }: Pick<StirHistory, "dark">, period: Interval): number[] {
  return dark.filter(({ from, to }) => to - from >= LEAST_DARK_MS).flatMap(({ from, to }) => [from, to].filter((at) => at > period.from && at < period.to));
}

/** What each of the segments shows, one more than there are boundaries. */
export function segmentStirs(history: StirHistory, edges: readonly EdgeOfSegment[], usual: UsualSilence, period: Interval): SegmentStirs[] {
  return Array.from({ length: edges.length + 1 }, (_, k) => {
    const [left, right] = [edges[k - 1], edges[k]];
    const [from, to] = [left?.use?.shut ?? left?.instant ?? period.from, right?.use?.opened ?? right?.instant ?? period.to];
    const rounded = to - from <= DIARY_EDGE_MS && (left?.isDiaryEdge === true || right?.isDiaryEdge === true);
    if (to <= from || rounded) return { after: 2, before: 2, body: null };
    return segmentOf(history, { from, to }, { left: left?.use != null, right: right?.use != null }, usual);
  });
}

function segmentOf(history: StirHistory, span: Interval, doors: { readonly left: boolean; readonly right: boolean }, usual: UsualSilence): SegmentStirs {
  const noticed = (from: number, to: number): 0 | 1 | 2 => (history.stirredIn(from, to) ? 1 : isDark(history, { from, to }) ? 2 : 0);
  const begin = doors.left ? Math.min(span.from + AFTER_FROM_MS, span.to) : span.from;
  // In a short one the two ends are the same time: it is told once.
  if (span.to - span.from < AFTER_MS + BEFORE_MS) return { after: doors.left ? noticed(begin, span.to) : 2, before: 2, body: null };
  const [bodyFrom, bodyTo] = [doors.left ? span.from + AFTER_MS : span.from, doors.right ? span.to - BEFORE_MS : span.to];
  return {
    after: doors.left ? noticed(begin, bodyFrom) : 2,
    before: doors.right ? noticed(bodyTo, span.to - 1) : 2,
    body: bodyOf(history, span.from, { from: bodyFrom, to: bodyTo }, usual),
  };
}

function bodyOf(history: StirHistory, renewedAt: number, body: Interval, usual: UsualSilence): SegmentStirs["body"] {
  // A stir at the very edge belongs to the neighbour.
  const clumps = Math.min(MOST_CLUMPS, history.clumpsIn(body.from + 1, body.to - 1));
  if (clumps === 0 && isDark(history, body)) return null;
  const since = Math.max(history.lastBefore(body.from), renewedAt);
  const silent = usual.longerThan(since, body.to - since) / usual.longerThan(since, body.from - since);
  const logGivenOn = clumps === 0 ? Math.log(silent) : Math.log(Math.max(1 - silent, LEAST_LIKELY)) + longestLog(history, since, body, usual);
  return { clumps, ms: body.to - body.from, logGivenOn };
}

/**
 * What the most unusual silence between the stirs of the body says against being at home: a robot's hour in a day of nobody is no
 * day at home. Its share among the silences there is room for is a p-value, and one of 0.03 turns up in many honest days: it
 * weighs −e p ln p against 1 at most (Sellke, Bayarri & Berger 2001, *The American Statistician* 55: 62-71, from memory).
 */
function longestLog({ activeIn }: StirHistory, since: number, body: Interval, usual: UsualSilence): number {
  let rarest = 1;
  let from = since;
  const told = (to: number): void => {
    if (to - from >= LEAST_LULL_MS) {
      const chances = Math.max(1, (body.to - body.from) / (to - from));
      rarest = Math.min(rarest, Math.max(1 - (1 - usual.longerThan(from, to - from)) ** chances, LEAST_LIKELY));
    }
  };
  for (const one of activeIn(since, body.to)) {
    told(one.from);
    from = Math.max(from, one.to);
  }
  told(body.to);
  return rarest < 1 / Math.E ? Math.log(-Math.E * rarest * Math.log(rarest)) : 0;
}

/** More than half of the time nobody could have been noticed. */
function isDark({ dark }: StirHistory, window: Interval): boolean {
  return 2 * totalMs(intersection(dark, [window])) > window.to - window.from;
}
