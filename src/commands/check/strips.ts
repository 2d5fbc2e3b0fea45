import { DateTime } from "luxon";
import type { Readings, SetAsideRow } from "../../intake/readings.js";
import type { TimePart } from "../../intake/time-parts.js";
import { unpackedReadings } from "../../intake/unpack.js";
import type { SignalSpec, Site } from "../../site/site.js";

/** More days than this are no month to look at; the last ones are drawn. */
const MOST_DAYS = 62;
/** A day with fewer rows than this part of the signal's usual day is marked (our own choice). */
const FEW = 0.5;

/** A day is marked where so many of its rows were not understood: a lost echo now and then must not hide what else was seen (our own choice). */
const ODD = 0.1;

/** Characters of a strip: no row, few rows, the share of the day that was on in eighths, and words that were not understood. */
const fineMarks = { none: "·", few: "▾", on: ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"], odd: "!" } as const;
const plainMarks = { none: ".", few: "v", on: ["0", "1", "2", "3", "4", "5", "6", "7"], odd: "!" } as const;

/** Rows that could not be read, counted by signal and local day. */
export interface OddRows {
  readonly add: (row: SetAsideRow) => void;
  readonly count: (signal: string, day: string) => number;
}

/** Nothing counted yet. */
export function makeOddRows(timeZone: string): OddRows {
  const counts = new Map<string, number>();
  return {
    add({ about }) {
      if (about === undefined) return;
      const key = `${about.signal}\n${dayOf(about.at, timeZone)}`;
      counts.set(key, (counts.get(key) ?? 0) + 1);
    },
    count: (signal, day) => counts.get(`${signal}\n${day}`) ?? 0,
  };
}

/**
 * A strip a signal, a character a day: how much of the day it was on (occupied, open, here), or that it said nothing, little, or what was
 * not understood. A band that does not fit shows as a strip that never changes, a dead week as a gap.
 */
export function stripLines(site: Site, readings: ReadonlyMap<string, Readings>, { from, to }: TimePart, odd: OddRows, fine: boolean): string[] {
  const days = daysBetween(from, to, site.timeZone).slice(-MOST_DAYS);
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined || days.length < 2) return [];
  const marks = fine ? fineMarks : plainMarks;
  const width = Math.max(...site.signals.map(({ id }) => shortName(id).length));
  const legend = `${marks.on[0]} to ${marks.on[7]} how much of it was on, ${marks.few} few rows, ${marks.none} none, ${marks.odd} what was not understood`;
  return [
    `  day by day, ${first} to ${last}: ${legend}`,
    ...site.signals.map((signal) => {
      const strip = stripOf(signal, readings.get(signal.id), days, site.timeZone, to, (day) => odd.count(signal.id, day));
      const drawn = strip.map((day) => (typeof day === "string" ? marks[day] : onMark(day, marks.on)));
      return `    ${shortName(signal.id).padEnd(width)}  ${drawn.join("")}`;
    }),
  ];
}

function stripOf(signal: SignalSpec, readings: Readings | undefined, days: readonly string[], timeZone: string, to: number, oddOn: (day: string) => number): ("none" | "few" | "odd" | number)[] {
  const rows = days.map(() => 0);
  const on = days.map(() => 0);
  const known = days.map(() => 0);
  const place = new Map(days.map((day, i) => [day, i]));
  const { times, values } = readings === undefined ? { times: [], values: [] } : unpackedReadings(readings);
  // A sensor that reports changes only holds its last state.
  const end = signal.expectMs === null ? to : -Infinity;
  const starts = days.map((day) => DateTime.fromISO(day, { zone: timeZone }).toMillis());
  for (let i = 0; i < times.length; i++) {
    const [at, value] = [times[i] ?? 0, values[i] ?? Number.NaN];
    const first = place.get(dayOf(at, timeZone));
    if (first !== undefined) rows[first] = (rows[first] ?? 0) + 1;
    // A state lasts until the next reading, over the ends of days too.
    const until = times[i + 1] ?? Math.max(at, end);
    for (let day = Math.max(0, first ?? 0); day < days.length; day++) {
      const lasts = Math.min(until, starts[day + 1] ?? Infinity) - Math.max(at, starts[day] ?? 0);
      if (lasts < 0 || (lasts === 0 && (starts[day] ?? 0) > until)) break;
      if (Number.isNaN(value)) continue;
      known[day] = (known[day] ?? 0) + lasts;
      if (isOn(signal, value)) on[day] = (on[day] ?? 0) + lasts;
    }
  }
  const usual = [...rows].filter((count) => count > 0).sort((a, b) => a - b);
  const middle = usual[Math.floor(usual.length / 2)] ?? 0;
  return rows.map((count, i) => {
    const isRegular = signal.expectMs !== null;
    const odd = oddOn(days[i] ?? "");
    if (odd > 0 && odd >= ODD * (count + odd)) return "odd";
    if (count === 0 && (isRegular || (known[i] ?? 0) === 0)) return "none";
    // The first and the last day need not be whole.
    if (isRegular && count < FEW * middle && i > 0 && i + 1 < days.length) return "few";
    return (known[i] ?? 0) === 0 ? 0 : (on[i] ?? 0) / (known[i] ?? 1);
  });
}

/** The lowest mark is for days that were never on: a door is open for minutes, and that is to be seen. */
function onMark(share: number, marks: readonly string[]): string {
  return marks[share === 0 ? 0 : Math.min(7, Math.max(1, Math.floor(8 * share)))] ?? "";
}

function isOn({ band }: SignalSpec, value: number): boolean {
  return band === null ? value === 1 : value >= band.nearMetres && value <= band.farMetres;
}

function daysBetween(from: number, to: number, timeZone: string): string[] {
  const days: string[] = [];
  for (let day = DateTime.fromMillis(from, { zone: timeZone }).startOf("day"); day.toMillis() <= to && days.length < 1_000; day = day.plus({ days: 1 })) days.push(day.toFormat("yyyy-MM-dd"));
  return days;
}

/** The local day of the instant asked for last is remembered: neighbouring readings are nearly all of one day. */
const remembered = { zone: "", from: Infinity, to: -Infinity, day: "" };

function dayOf(at: number, timeZone: string): string {
  if (remembered.zone === timeZone && at >= remembered.from && at < remembered.to) return remembered.day;
  const start = DateTime.fromMillis(at, { zone: timeZone }).startOf("day");
  Object.assign(remembered, { zone: timeZone, from: start.toMillis(), to: start.plus({ days: 1 }).toMillis(), day: start.toFormat("yyyy-MM-dd") });
  return remembered.day;
}

function shortName(id: string): string {
  return id.length > 24 ? `${id.slice(0, 23)}~` : id;
}
