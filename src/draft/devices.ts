import type { ExportSample } from "../intake/sample-exports.js";
import { makeStampReader } from "../intake/stamp.js";
import { timeWriting } from "../site/time-pattern.js";
import { cellAt } from "./cell.js";
import { undated } from "./file-patterns.js";
import type { FoundSource } from "./found.js";

/** Files that overlap in time by more than this may be of two devices (our own choice). */
const OVERLAP_MS = 60_000;
/** They are of one if they share at least this part of the rows there (our own choice). */
const LEAST_COMMON = 0.5;

/** A file's rows, each with its instant, by what tells signals apart: the channel, or nothing where each column is a signal. */
interface Told {
  readonly table: ExportSample;
  readonly stem: string;
  readonly from: number;
  readonly to: number;
  readonly rows: ReadonlyMap<string, ReadonlyMap<string, number>>;
}

/**
 * The files of a source by the device that wrote them, where a file is all of one device: files with the same columns that tell
 * different things of the same time. One group where nothing says so.
 */
export function deviceGroups(source: FoundSource): ExportSample[][] {
  const groups: Told[][] = [];
  for (const one of source.tables.map((table) => toldBy(table, source))) {
    const group = groups.find((members) => members.every((other) => !tellsOtherwise(other, one)));
    if (group === undefined) groups.push([one]);
    else group.push(one);
  }
  return groups.map((group) => group.map(({ table }) => table));
}

function toldBy(table: ExportSample, { timeColumn, written, layout }: FoundSource): Told {
  const stamps = makeStampReader({ written: timeWriting(written), zone: "UTC", skippedHour: "shift" });
  const rows = new Map<string, Map<string, number>>();
  let [from, to] = [Infinity, -Infinity];
  for (const { cells } of table.rows) {
    const at = stamps.read(cellAt(cells, timeColumn));
    if (Number.isNaN(at)) continue;
    from = Math.min(from, at);
    to = Math.max(to, at);
    const channel = layout.form === "long" ? cellAt(cells, layout.signal).trim() : "";
    const own = rows.get(channel) ?? new Map<string, number>();
    rows.set(channel, own.set(cells.join("\n"), at));
  }
  return { table, stem: undated(table.name), from, to, rows };
}

/** Whether two files tell different rows of one time; of files seen in part their names must tell. */
function tellsOtherwise(one: Told, other: Told): boolean {
  const [from, to] = [Math.max(one.from, other.from), Math.min(one.to, other.to)];
  if (!(to - from > OVERLAP_MS)) return false;
  if (!one.table.whole || !other.table.whole) return one.stem !== other.stem;
  let [fewest, common] = [0, 0];
  for (const [channel, rows] of one.rows) {
    const inside = [...rows].filter(([, at]) => at >= from && at <= to).map(([row]) => row);
    const theirs = other.rows.get(channel) ?? new Map<string, number>();
    const there = [...theirs].filter(([, at]) => at >= from && at <= to).length;
    fewest += Math.min(inside.length, there);
    common += inside.filter((row) => theirs.has(row)).length;
  }
  return fewest > 0 && common < LEAST_COMMON * fewest;
}
