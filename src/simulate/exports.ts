import { csvText } from "../ground/csv-text.js";
import { daysLater, instantOf, nearClockChange } from "./local-calendar.js";
import type { PlantedDirt } from "./planted.js";
import { happens, pick, randomStream } from "./random.js";
import { required } from "./required.js";
import type { Scenario, ScenarioSource, Sensor } from "./scenario.js";
import { stampWriter } from "./stamp-writing.js";
import type { ReadingRow } from "./values.js";
import type { Interval } from "../ground/intervals.js";

/** A row before it is written, with its instant. */
interface ExportRow {
  readonly at: number;
  readonly cells: string[];
}

/** A sensor and what it wrote. */
export interface SensorRows {
  readonly name: string;
  readonly sensor: Sensor;
  readonly rows: readonly ReadingRow[];
}

/** How far a misplaced row slips, in rows. */
const FARTHEST_SLIP = 5;
/** Around a clock change a stamp without offset tells its instant only by its place in the file: rows stay in order there. */
const CLOCK_CHANGE_MARGIN_MS = 3 * 3_600_000;

/**
 * One source's files: rows of all its sensors by time, in the source's layout, cut into parts that overlap, with a
 * little dirt. Dirt never destroys news: what cannot be read is an extra row, what is misplaced is still there.
 */
export function exportFiles(scenario: Scenario, name: string, source: ScenarioSource, sensors: readonly SensorRows[], span: Interval): { files: Map<string, string>; dirt: PlantedDirt } {
  const offByMs = source.ahead - source.behind;
  const stamp = stampWriter(source.time.written, scenario.timezone);
  const layout = source.signal === undefined ? wideLayout(source, sensors) : longLayout(source, source.signal, sensors);
  const clean = layout.rows.map((row): ExportRow => ({ at: row.at, cells: [stamp(row.at + offByMs), ...row.cells] }));
  const { rows, misplaced, unreadable } = withDirt(scenario, name, source, clean, layout.valueColumns);
  const header = [source.time.column, ...layout.columns];
  const files = new Map<string, string>();
  let repeated = 0;
  let tail: ExportRow[] = [];
  for (const part of partsOf(scenario, source, span)) {
    const own = rows.filter(({ at }) => at >= part.from && at < part.to);
    repeated += tail.length;
    files.set(source.files.replace("*", part.label), csvText(header, [...tail, ...own].map(({ cells }) => cells), { delimiter: source.delimiter, lineEnd: "\n" }));
    tail = source.overlap === 0 ? [] : own.slice(-source.overlap);
  }
  return { files, dirt: { rows: rows.length, repeated, misplaced, unreadable } };
}

interface Layout {
  readonly columns: readonly string[];
  readonly rows: readonly ExportRow[];
  /** Positions in the written row (stamp first) that hold values. */
  readonly valueColumns: readonly number[];
}

/** One reading a row: stamp, channel, value (and coordinates, where the source has them). */
function longLayout(source: ScenarioSource, channelColumn: string, sensors: readonly SensorRows[]): Layout {
  const valueNames = [source.value, source.latitude, source.longitude].filter((column) => column !== undefined);
  const rows = sensors.flatMap(({ name, sensor, rows: readings }) => {
    const channel = required(sensor.channel, `the channel of ${name}`);
    return readings.map(({ at, cells }): ExportRow => {
      const value = source.value === undefined ? [] : sensor.kind === "position" ? [""] : cells;
      const place = source.latitude === undefined ? [] : sensor.kind === "position" ? cells : ["", ""];
      return { at, cells: [channel, ...value, ...place] };
    });
  });
  const valueColumns = source.value === undefined ? [2, 3] : [2];
  return { columns: [channelColumn, ...valueNames], rows: rows.sort((a, b) => a.at - b.at), valueColumns };
}

/** A column a signal: a row for each instant at which one of them reports; the others' cells say nothing. */
function wideLayout(source: ScenarioSource, sensors: readonly SensorRows[]): Layout {
  const columns = sensors.flatMap(({ name, sensor: { column, columns: two } }) =>
    two === undefined ? [required(column, `the column of ${name}`)] : [two.latitude, two.longitude],
  );
  const byInstant = new Map<number, string[]>();
  let first = 0;
  for (const { sensor, rows } of sensors) {
    for (const { at, cells } of rows) {
      const row = byInstant.get(at) ?? columns.map((_, i) => source.missing[(at / 1000 + i) % source.missing.length] ?? "");
      row.splice(first, cells.length, ...cells);
      byInstant.set(at, row);
    }
    first += sensor.columns === undefined ? 1 : 2;
  }
  const rows = [...byInstant].map(([at, cells]): ExportRow => ({ at, cells })).sort((a, b) => a.at - b.at);
  return { columns, rows, valueColumns: columns.map((_, i) => i + 1) };
}

function withDirt(scenario: Scenario, name: string, source: ScenarioSource, clean: readonly ExportRow[], valueColumns: readonly number[]): { rows: ExportRow[]; misplaced: number; unreadable: number } {
  const random = randomStream(scenario.seed, "source", name, "dirt");
  const withoutOffset = !["iso", "epoch-s", "epoch-ms"].includes(source.time.written);
  const rows: ExportRow[] = [];
  let unreadable = 0;
  for (const row of clean) {
    rows.push(row);
    if (!happens(random, source.dirt.unreadable)) continue;
    const cells = row.cells.map((cell, column) =>
      valueColumns.includes(column) && !source.missing.includes(cell) ? pick(random, source.dirt.words) : cell,
    );
    rows.push({ at: row.at, cells });
    unreadable += 1;
  }
  let misplaced = 0;
  for (let i = 0; i + FARTHEST_SLIP < rows.length; i += 1) {
    if (!happens(random, source.dirt.disorder)) continue;
    const slip = 1 + Math.floor(random() * FARTHEST_SLIP);
    const [row, passed] = [rows[i], rows[i + slip]];
    if (row === undefined || passed === undefined || passed.at === row.at) continue;
    if (withoutOffset && nearClockChange(scenario.timezone, row.at, CLOCK_CHANGE_MARGIN_MS)) continue;
    rows.splice(i, 1);
    rows.splice(i + slip, 0, row);
    misplaced += 1;
    // The moved row and those it passed are left alone, so that "a few rows too late" stays true.
    i += slip;
  }
  return { rows, misplaced, unreadable };
}

/** The parts of an export: the first begins with the lead, each later one on a local midnight. */
function partsOf(scenario: Scenario, source: ScenarioSource, span: Interval): (Interval & { readonly label: string })[] {
  if (source.split === undefined) return [{ ...span, label: scenario.period.from }];
  const days = Math.max(1, Math.round(source.split / 86_400_000));
  const midnight = (date: string): number => instantOf(scenario.timezone, date);
  const parts: (Interval & { label: string })[] = [];
  for (let day = scenario.period.from; midnight(day) < span.to; day = daysLater(day, days)) {
    parts.push({ from: parts.length === 0 ? span.from : midnight(day), to: Math.min(span.to, midnight(daysLater(day, days))), label: day });
  }
  return parts;
}
