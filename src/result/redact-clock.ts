import { DateTime } from "luxon";
import type { Interval } from "../ground/intervals.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../ground/units.js";

/** Day 1 of every redacted result. It is nobody's: the first day of a period is moved here, whatever its date and weekday. */
export const NEUTRAL_DAY_ONE = Date.UTC(2001, 0, 1);

/** Stands for the time of making, which a redacted result does not tell, and is the time stamp of its files. */
export const NEUTRAL_MADE = Date.UTC(2000, 0, 1);

/** This long before and after a clock change, instants may be moved a little to keep their order and their distances. Our own choice: a night. */
const NIGHT_MS = 6 * HOUR_MS;
/** A pause this long bears an hour more without anything looking torn apart. Our own choice. */
const PAUSE_MS = HOUR_MS / 2;

/** A stretch of time and where it lies on the grid. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly gridFrom: number;
  readonly gridTo: number;
}

/** The site's local time, laid on days of 24 hours each. */
export interface GridClock {
  /** An instant on the grid: day 1 begins at {@link NEUTRAL_DAY_ONE}, the time of day is the site's own. Order is kept. */
  readonly moved: (instant: number) => number;
  /** Whether it lies in a night in which the clocks changed. */
  readonly isNearChange: (instant: number) => boolean;
  /** Local midnight of day 1, as if it were UTC. */
  readonly firstDay: number;
  /** Day 1: 1 is Monday, 7 Sunday. */
  readonly firstWeekday: number;
  /** Local time minus UTC, milliseconds. */
  readonly offsetMs: (instant: number) => number;
}

/**
 * Every instant becomes the number of its local day and its local time of day, so that nothing is an hour off after a clock
 * change and no day is longer or shorter. Where clocks went back, the hour too many is taken out of the repeated hour if
 * nothing is told of it; else out of the longest pauses between told instants of that night, whose times of day may then be up to an hour off. Where
 * they went forward, the hour is added to the pause over the change, or if that is short to the longest pause of the night. So instants
 * close together stay as far apart as they were, none repeats a local hour, and order is kept.
 * An unknown zone is taken for UTC. `told`: all instants that the result tells.
 */
export function gridClock(told: readonly number[], periodFrom: number, timeZone: string): GridClock {
  const zone = DateTime.fromMillis(periodFrom, { zone: timeZone }).isValid ? timeZone : "utc";
  const at = (instant: number): DateTime => DateTime.fromMillis(instant, { zone });
  const offsetMs = (instant: number): number => at(instant).offset * MINUTE_MS;
  const begin = at(periodFrom);
  const firstDay = Date.UTC(begin.year, begin.month - 1, begin.day);
  const onGrid = (wall: number): number => wall - firstDay + NEUTRAL_DAY_ONE;
  const sorted = [...new Set(told)].toSorted((a, b) => a - b);
  const nights = changesIn(sorted, offsetMs).map((change) => nightOf(change, sorted, at));
  const pieces = nights.flat();
  return {
    firstDay,
    firstWeekday: begin.weekday,
    offsetMs,
    isNearChange: (instant) => nights.some((night) => instant >= (night[0]?.from ?? Infinity) && instant <= (night.at(-1)?.to ?? -Infinity)),
    moved(instant) {
      const local = at(instant);
      if (local.startOf("day").toMillis() === instant) return onGrid(gridMidnight(local));
      const piece = pieces.find(({ from, to }) => instant >= from && instant <= to);
      return onGrid(piece === undefined ? instant + local.offset * MINUTE_MS : within(piece, instant));
    },
  };
}

/** The beginning of a local day as days of 24 hours have it: in some zones clocks change at midnight, and a day begins at 01:00. */
function gridMidnight(local: DateTime): number {
  return Date.UTC(local.year, local.month - 1, local.day);
}

/** Where an instant lies in a piece that was made longer or shorter: as far from the nearer end as it was, but not past the middle. */
function within({ from, to, gridFrom, gridTo }: Piece, instant: number): number {
  const middle = (gridFrom + gridTo) / 2;
  if (to - from === gridTo - gridFrom) return gridFrom + instant - from;
  return instant - from <= to - instant ? Math.min(gridFrom + instant - from, middle) : Math.max(gridTo - to + instant, middle);
}

interface Change {
  /** The first instant of the new time. */
  readonly at: number;
  /** Positive where clocks went forward. */
  readonly byMs: number;
}

/** The clock changes between the first and the last of the instants. */
function changesIn(sorted: readonly number[], offsetMs: (instant: number) => number): Change[] {
  const [first, last] = [sorted[0] ?? 0, sorted.at(-1) ?? 0];
  const changes: Change[] = [];
  for (let from = first - DAY_MS; from < last + DAY_MS; from += DAY_MS) {
    const byMs = offsetMs(from + DAY_MS) - offsetMs(from);
    if (byMs === 0) continue;
    let [before, after] = [from, from + DAY_MS];
    while (after - before > 1) {
      const middle = Math.floor((before + after) / 2);
      if (offsetMs(middle) === offsetMs(from)) before = middle;
      else after = middle;
    }
    changes.push({ at: after, byMs });
  }
  return changes;
}

/** The night around a change, within its local day, in pieces from each told instant to the next: together longer or shorter by the change. */
function nightOf({ at, byMs }: Change, told: readonly number[], local: (instant: number) => DateTime): Piece[] {
  const day = local(at).startOf("day");
  const from = Math.max(at - NIGHT_MS, day.toMillis());
  const to = Math.min(at + NIGHT_MS, day.plus({ days: 1 }).startOf("day").toMillis());
  const ends = [from, ...told.filter((instant) => instant > from && instant < to), to];
  const pauses = ends.slice(1).map((end, i): Interval => ({ from: ends[i] ?? from, to: end }));
  const lengths = byMs > 0 ? longer(pauses, at, byMs) : shorter(pauses, at, -byMs);
  let gridFrom = from === day.toMillis() ? gridMidnight(day) : from + local(from).offset * MINUTE_MS;
  return pauses.map((pause, i) => {
    const piece = { ...pause, gridFrom, gridTo: gridFrom + (lengths[i] ?? 0) };
    gridFrom = piece.gridTo;
    return piece;
  });
}

function longer(pauses: readonly Interval[], at: number, byMs: number): number[] {
  const over = pauses.find(({ from, to }) => from <= at && at < to);
  const longest = pauses.reduce<Interval | undefined>((best, one) => (best === undefined || one.to - one.from > best.to - best.from ? one : best), undefined);
  const grown = over !== undefined && over.to - over.from >= PAUSE_MS ? over : longest;
  return pauses.map((one) => one.to - one.from + (one === grown ? byMs : 0));
}

function shorter(pauses: readonly Interval[], at: number, byMs: number): number[] {
  const lengths = pauses.map(({ from, to }) => to - from);
  const over = pauses.findIndex(({ from, to }) => from <= at - byMs && to >= at + byMs);
  if (over >= 0) return lengths.map((length, i) => (i === over ? length - byMs : length));
  // No pause is left longer than `longest`: found by halving.
  const without = (longest: number): number => lengths.reduce((sum, length) => sum + Math.max(0, length - longest), 0);
  let [low, high] = [0, Math.max(...lengths)];
  while (high - low > 0.5) {
    const middle = (low + high) / 2;
    if (without(middle) > byMs) low = middle;
    else high = middle;
  }
  const cut = lengths.map((length) => Math.round(Math.min(length, high)));
  const most = cut.indexOf(Math.max(...cut));
  const left = lengths.reduce((sum, length) => sum + length, 0) - byMs - cut.reduce((sum, length) => sum + length, 0);
  return cut.map((length, i) => (i === most ? length + left : length));
}
