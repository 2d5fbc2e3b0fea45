import { makeStampReader } from "../intake/stamp.js";
import type { ExportSample } from "../intake/sample-exports.js";
import { startInstant, timeWriting } from "../site/time-pattern.js";
import type { CountsFound, Tables } from "./found.js";
import { isNumber } from "./layout.js";
import { tokensOf } from "./names.js";
import type { Answers, DraftQuestion } from "./questions.js";
import { counted, shown } from "./shown.js";
import { findWriting, type PlacedCell, type WritingFound } from "./time-writing.js";

/** A column that can be named: no other is called so. */
export interface NamedColumn {
  readonly name: string;
  readonly index: number;
}

/** A column with time stamps, and how they are written. */
export interface TimeColumn extends NamedColumn {
  readonly writing: WritingFound;
}

/** What holds the time of the rows. In `tables` the whole stamp stands in the first of `columns`, however many columns the export has for it. */
export interface TimesFound {
  readonly tables: Tables;
  /** The column with the largest readable share first. */
  readonly columns: readonly TimeColumn[];
  /** The column of the time of day, where it has one of its own. */
  readonly timeOfDay?: number;
  readonly counts?: CountsFound;
}

/** Cells of a column that must be alike for it to be one of dates, times or counts (our own choice). */
const LEAST_ALIKE = 0.8;
/** A count falls in at most this share of the steps, or once: where the device was started anew (our own choice). */
const MOST_FALLING = 0.01;
/** A count of more seconds than a year has is one of milliseconds (our own choice: exports are of weeks or months). */
const MOST_SECONDS = 366 * 86_400;

const dayOnly = /^(?:[A-Za-z]{3,9},? )?(?:\d{1,4}|\p{L}{3,10}\.?)(?:\. |[-./ ])(?:\d{1,2}|\p{L}{3,10}\.?),?[-./ ]\d{1,4}$/u;
/** With a point between hours and minutes only if seconds follow: 12.50 is a number. */
const timeOnly = /^\d{1,2}(?::\d{2}(?::\d{2}(?:[.,]\d+)?)?|\.\d{2}\.\d{2})(?: ?[AaPp]\.?\s?[Mm]\.?)?(?: ?(?:Z|[+-]\d{2}:?\d{2}))?$/;

/** Names of columns in which a device counts the time since it started (common practice, no source). */
const secondNames = ["seconds", "sekunden", "secondes", "segundos", "sec", "s"];
const milliNames = ["millis", "ms", "msec", "milliseconds", "millisekunden", "millisecondes", "milisegundos"];
const runNames = ["uptime", "since", "boot", "elapsed", "ticks", "tick", "laufzeit"];
const countNames = [...secondNames, ...milliNames, ...runNames, "t"];

/** Finds what tells the time of the rows: one column; else a day and a time of day; else a count from the start of the device. */
export function findTimes(tables: Tables, columns: readonly NamedColumn[], answers: Answers): TimesFound {
  const whole = timeColumns(tables, columns);
  if (whole.length > 0 || tables[0].traits.hasTracks) return atMidnight(tables, whole, columns) ?? { tables, columns: whole };
  return inTwoColumns(tables, columns) ?? counting(tables, columns, answers) ?? { tables, columns: [] };
}

function timeColumns(tables: Tables, columns: readonly NamedColumn[]): TimeColumn[] {
  const { hasTracks } = tables[0].traits;
  return (
    columns
      // Tracks may be called after the day they were recorded.
      .filter(({ name }) => !hasTracks || name === "time")
      .flatMap((column) => {
        const writing = findWriting(timeCells(tables, column.index));
        return writing === null || (writing.written === "epoch-s" && isNamedCount(column.name)) ? [] : [{ ...column, writing }];
      })
      .sort((a, b) => b.writing.readable / b.writing.cells - a.writing.readable / a.writing.cells)
  );
}

/** Eleven days after its start a count of milliseconds is as large as the seconds since 1970: its name tells. */
function isNamedCount(name: string): boolean {
  return tokensOf(name).some((token) => milliNames.includes(token) || runNames.includes(token));
}

/** The cells of a column with their places. */
export function timeCells(tables: readonly ExportSample[], index: number): PlacedCell[] {
  return tables.flatMap(({ rows, traits }) => rows.map(({ cells, line }) => ({ text: cells[index] ?? "", line, isLine: traits.hasLines })));
}

function inTwoColumns(tables: Tables, columns: readonly NamedColumn[]): TimesFound | null {
  const days = columns.filter(({ index }) => isAlike(tables, index, (cell) => dayOnly.test(cell)));
  const times = columns.filter(({ index }) => isAlike(tables, index, (cell) => timeOnly.test(cell)));
  for (const day of days) {
    for (const time of times) {
      const text = (cells: readonly string[]): string => `${(cells[day.index] ?? "").trim()} ${(cells[time.index] ?? "").trim()}`;
      const joined = atLeastOne(tables.map((table) => withCells(table, day.index, text)), tables);
      const writing = findWriting(timeCells(joined, day.index));
      if (writing === null) continue;
      const evidence = `the day stands in ${shown(day.name)} and the time of day in ${shown(time.name)}; ${writing.evidence}`;
      return { tables: joined, columns: [{ ...day, writing: { ...writing, evidence } }], timeOfDay: time.index };
    }
  }
  return null;
}

/**
 * A day written as its midnight, as spreadsheets do, beside a column with the time of day: both make up the stamp. Null where the stamps are not
 * all at midnight, or no other column tells the time of day.
 */
function atMidnight(tables: Tables, whole: readonly TimeColumn[], columns: readonly NamedColumn[]): TimesFound | null {
  const [day] = whole;
  const tail = day === undefined ? null : (midnight.exec((tables[0].rows[0]?.cells[day.index] ?? "").trim())?.[0] ?? null);
  if (day === undefined || tail === null || !isAlike(tables, day.index, (cell) => cell.endsWith(tail))) return null;
  const time = columns.find(({ index }) => index !== day.index && isAlike(tables, index, (cell) => timeOnly.test(cell)));
  if (time === undefined) return null;
  const timeOf = (cells: readonly string[]): string => (cells[time.index] ?? "").trim();
  const bare = tables.map((table) => withCells(table, day.index, (cells) => `${(cells[day.index] ?? "").trim().slice(0, -tail.length)} ${timeOf(cells)}`));
  const found = findWriting(timeCells(bare, day.index));
  const written = found === null ? null : withLiteral(found.written, tail, timeOf(tables[0].rows[0]?.cells ?? []));
  if (found === null || written === null) return null;
  const joined = tables.map((table) => withCells(table, day.index, (cells) => `${(cells[day.index] ?? "").trim()} ${timeOf(cells)}`));
  const evidence = `the day stands in ${shown(day.name)}, always at midnight, and the time of day in ${shown(time.name)}; ${found.evidence.replaceAll(found.written, written)}`;
  return { tables: atLeastOne(joined, tables), columns: [{ ...day, writing: { ...found, written, evidence, rival: null } }], timeOfDay: time.index };
}

/** What a midnight ends with. */
const midnight = /[T ]0?0:00(?::00(?:\.0+)?)?$/;

/** A pattern of day and time with the text of a midnight between them; null where the time is written in a way of its own. */
function withLiteral(written: string, literal: string, time: string): string | null {
  const pattern = written !== "iso" ? written : /^\d\d:\d\d:\d\d$/.test(time) ? "yyyy-MM-dd HH:mm:ss" : /^\d\d:\d\d$/.test(time) ? "yyyy-MM-dd HH:mm" : "";
  const hour = pattern.search(/ [Hh]/);
  return hour < 0 ? null : `${pattern.slice(0, hour)}'${literal}'${pattern.slice(hour)}`;
}

function counting(tables: Tables, columns: readonly NamedColumn[], answers: Answers): TimesFound | null {
  const column = columns.find(({ name, index }) => tokensOf(name).some((token) => countNames.includes(token)) && isRising(tables, index));
  if (column === undefined) return null;
  const { index, name } = column;
  const [{ name: file }] = tables;
  const counts = numbersIn(tables, index);
  const [from, to] = [counts[0] ?? 0, counts.reduce((highest, count) => Math.max(highest, count), 0)];
  const tokens = tokensOf(name);
  const isMilliseconds = tokens.some((token) => milliNames.includes(token)) || (!tokens.some((token) => secondNames.includes(token)) && to > MOST_SECONDS);
  const written = isMilliseconds ? "ms-since" : "s-since";
  const start = answers.get(`start:${file}`) ?? null;
  // Without an answer the readings lie somewhere: in a row of their own.
  const startMs = start === null ? Date.UTC(2000, 0) : startInstant(start, "UTC");
  const dated = tables.map((table) => {
    const stamps = makeStampReader({ written: timeWriting(written, startMs), zone: "UTC", skippedHour: "shift" });
    return withCells(table, index, (cells) => {
      const instant = stamps.read(cells[index] ?? "");
      return Number.isNaN(instant) ? "" : new Date(instant).toISOString();
    });
  });
  const evidence = `no column holds a date; ${shown(name)} counts up from ${counted(from)} to ${counted(to)}, taken for ${isMilliseconds ? "milliseconds" : "seconds"} since the device started`;
  const writing: WritingFound = { written: "iso", readable: counts.length, cells: counts.length, evidence, open: null, rival: null, offsets: "all" };
  return { tables: atLeastOne(dated, tables), columns: [{ ...column, writing }], counts: { written, start, question: start === null ? startQuestion(file, name) : null } };
}

function startQuestion(file: string, column: string): DraftQuestion {
  return {
    id: `start:${file}`,
    text: `when did the device start that counts in ${shown(column)} of ${file}? No row tells`,
    choices: [],
    typed: { expected: "an instant with its offset, such as 2026-10-01T06:00:00Z", fits: (text) => /(?:Z|[+-]\d{2}:?\d{2})$/i.test(text) && !Number.isNaN(startInstant(text, "UTC")) },
    weight: "blocks",
  };
}

function isAlike(tables: Tables, index: number, fits: (cell: string) => boolean): boolean {
  const cells = timeCells(tables, index).map(({ text }) => text.trim()).filter((text) => text !== "");
  return cells.length > 0 && cells.filter(fits).length >= LEAST_ALIKE * cells.length;
}

function isRising(tables: Tables, index: number): boolean {
  if (!isAlike(tables, index, (cell) => isNumber(cell) && Number(cell) >= 0)) return false;
  const counts = numbersIn(tables.slice(0, 1), index);
  const falls = counts.filter((count, i) => i > 0 && count < (counts[i - 1] ?? 0)).length;
  return counts.length > 2 && falls <= Math.max(1, MOST_FALLING * counts.length) && new Set(counts).size > counts.length / 2;
}

function numbersIn(tables: readonly ExportSample[], index: number): number[] {
  return timeCells(tables, index).map(({ text }) => Number(text.trim() === "" ? Number.NaN : text)).filter((count) => !Number.isNaN(count));
}

/** A table with other texts in one column. */
function withCells(table: ExportSample, index: number, textOf: (cells: readonly string[]) => string): ExportSample {
  return { ...table, rows: table.rows.map((row) => ({ ...row, cells: row.cells.with(index, textOf(row.cells)) })) };
}

/** Tables that were made from others: there are as many. */
function atLeastOne(made: readonly ExportSample[], [before]: Tables): Tables {
  const [first = before, ...others] = made;
  return [first, ...others];
}
