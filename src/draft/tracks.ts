import type { ExportSample } from "../intake/sample-exports.js";
import type { SampleRow } from "../intake/row-sample.js";
import { makeStampReader } from "../intake/stamp.js";
import { cellAt } from "./cell.js";
import type { LayoutFound } from "./layout.js";
import type { Tables } from "./found.js";
import { plainName, tokensOf } from "./names.js";
import { counted, shown } from "./shown.js";

/** Tracks that overlap in time by more than this were recorded by two devices (our own choice). */
const OVERLAP_MS = 60_000;
/** Two files that overlap in time are of one device if they share at least this part of the points there (our own choice). */
const LEAST_COMMON = 0.5;
/** Who was recorded, where neither file nor track says so: no person's name, so that two of them are not taken for one person. */
const NOBODYS_NAME = "phone";
/** Asked where tracks of one name overlap in time. */
const MIXED_QUESTION =
  "was all of it recorded by one device a name? Tracks of the same name overlap in time, and their places would be mixed: " +
  "give each device a file of its own";
/** More names than this are not listed. */
const MOST_LISTED = 6;
/** Names of tracks and files that do not say who was recorded. */
const nobody = new Set([
  "phone", "phones", "device", "tracker", "gps", "track", "tracks", "log", "logs", "gpx", "export", "exports",
  "current", "path", "route", "recording", "position", "positions", "place", "places", "history", "my", "signal",
]);

/**
 * Groups files of tracks that may be of one device: their names differ in digits only, and none was recorded elsewhere
 * at the same time.
 */
export function trackGroups(tables: readonly ExportSample[]): ExportSample[][] {
  const groups: Recorded[][] = [];
  for (const table of tables) {
    const one = { table, stem: stemOf(table), ...pointsOf(table) };
    const group = groups.find((members) => members.every((other) => other.stem === one.stem && !recordedElsewhere(other, one)));
    if (group === undefined) groups.push([one]);
    else group.push(one);
  }
  return groups.map((group) => group.map(({ table }) => table));
}

/**
 * Whether tracks are of one device, one after the other, or of several, told apart by the tracks' names. Where the tracks
 * name nobody, `sourceName` does.
 */
export function trackLayout(tables: Tables, sourceName: string): LayoutFound {
  const { header } = tables[0];
  const [lat, lon, track] = [header.indexOf("lat"), header.indexOf("lon"), header.indexOf("track")];
  const runs = tables.flatMap((table) => runsOf(table, track));
  const names = [...new Set(runs.map(({ name }) => name))];
  const only = names.length === 1 ? (names[0] ?? "") : null;
  const listed = names.slice(0, MOST_LISTED).map(shown).join(", ") + (names.length > MOST_LISTED ? ", …" : "");
  const unsure = tables.some((table) => overlapsItself(table, track)) ? MIXED_QUESTION : null;
  if (names.length > 1 && overlap(runs)) {
    const nameless = runs.reduce((sum, run) => sum + (run.name === "" ? run.points : 0), 0);
    const lost = nameless === 0 ? "" : `; ${counted(nameless)} points of tracks without a name will be set aside`;
    const because = `the tracks overlap in time, so several devices recorded them: the track's name tells them apart (${listed})${lost}`;
    return { form: "long", signal: track, value: null, latitude: lat, longitude: lon, unsure, because };
  }
  const name = [sourceName, only ?? ""].map((text) => plainName(text, "")).find(saysWho) ?? NOBODYS_NAME;
  const because = whyOneDevice(only, names.length, listed);
  return { form: "wide", values: [], positions: [{ latitude: lat, longitude: lon, name }], unsure, because };
}

/** `only`: the one name of all tracks, empty where they have none; null where there are several. */
function whyOneDevice(only: string | null, count: number, listed: string): string {
  if (only === null) {
    return `no two of the ${count} names of tracks (${listed}) were recorded at once, so the tracks are taken for those of one device`;
  }
  return `every track point is of one device: ${only === "" ? "the tracks have no names" : `the track is called ${listed}`}`;
}

/** A name that is somebody's or something's: a word that not every track could have. */
function saysWho(name: string): boolean {
  const words = tokensOf(name).filter((word) => !/^\p{N}+$/u.test(word));
  return words.length <= 3 && !words.every((word) => nobody.has(word));
}

interface Run {
  readonly name: string;
  from: number;
  to: number;
  points: number;
}

/** Stretches of points that stand together in a file under one name, whichever way they run in time. */
function runsOf(table: ExportSample, track: number): Run[] {
  const runs: Run[] = [];
  let previous = -1;
  for (const { at, cells, stretch } of timedRows(table)) {
    const name = cellAt(cells, track).trim();
    const last = runs.at(-1);
    if (last?.name === name && stretch === previous) {
      last.from = Math.min(last.from, at);
      last.to = Math.max(last.to, at);
      last.points++;
    } else runs.push({ name, from: at, to: at, points: 1 });
    previous = stretch;
  }
  return runs;
}

/** Whether a run began before one of another name ended. */
function overlap(runs: readonly Run[]): boolean {
  const latest = new Map<string, number>();
  for (const { name, from, to } of [...runs].sort((a, b) => a.from - b.from)) {
    for (const [other, end] of latest) if (other !== name && end - from > OVERLAP_MS) return true;
    latest.set(name, Math.max(to, latest.get(name) ?? -Infinity));
  }
  return false;
}

/** Whether points go back in time, to a time that has points of the same name already. */
function overlapsItself(table: ExportSample, track: number): boolean {
  const parts: { readonly name: string; readonly from: number; to: number }[] = [];
  for (const { at, cells } of timedRows(table)) {
    const name = cellAt(cells, track).trim();
    const last = parts.at(-1);
    if (last?.name === name && at >= last.to) last.to = at;
    else parts.push({ name, from: at, to: at });
  }
  const latest = new Map<string, number>();
  return parts
    .sort((a, b) => a.from - b.from)
    .some(({ name, from, to }) => {
      const end = latest.get(name) ?? -Infinity;
      latest.set(name, Math.max(end, to));
      return end - from > OVERLAP_MS;
    });
}

/** Whether two files hold points of the same time that are not the same points. */
function recordedElsewhere(ours: Points, theirs: Points): boolean {
  const from = Math.max(ours.from, theirs.from);
  const to = Math.min(ours.to, theirs.to);
  if (!(to - from > OVERLAP_MS)) return false;
  const inside = ({ points }: Points): string[] => [...points].filter(([, at]) => at >= from && at <= to).map(([point]) => point);
  const [fewer, more] = [inside(ours), inside(theirs)].sort((one, other) => one.length - other.length) as [string[], string[]];
  const known = new Set(more);
  return fewer.length > 0 && fewer.filter((point) => known.has(point)).length < LEAST_COMMON * fewer.length;
}

/** A file's points, each with its instant, and the first and last of these. */
interface Points {
  readonly points: ReadonlyMap<string, number>;
  readonly from: number;
  readonly to: number;
}

interface Recorded extends Points {
  readonly table: ExportSample;
  readonly stem: string;
}

function pointsOf(table: ExportSample): Points {
  const points = new Map<string, number>();
  let [from, to] = [Infinity, -Infinity];
  for (const { at, cells } of timedRows(table)) {
    points.set(`${at} ${cells[1]} ${cells[2]}`, at);
    from = Math.min(from, at);
    to = Math.max(to, at);
  }
  return { points, from, to };
}

/** The rows whose time can be read, each with its instant, in the order of the file. */
function timedRows({ header, rows }: ExportSample): (SampleRow & { readonly at: number })[] {
  const reader = makeStampReader({ written: "iso", zone: "UTC", skippedHour: "shift" });
  const time = header.indexOf("time");
  return rows.map((row) => ({ ...row, at: reader.read(cellAt(row.cells, time)) })).filter(({ at }) => !Number.isNaN(at));
}

/** The file's name without its digits, as files of one source share it. */
function stemOf({ name }: ExportSample): string {
  return name.replace(/\d+(?:[-_.]?\d+)*(?=[^/]*$)/g, "*");
}
