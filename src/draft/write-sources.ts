import { sum } from "d3-array";
import type { ExportSample } from "../intake/sample-exports.js";
import { cellAt } from "./cell.js";
import type { ClocksFound } from "./clocks.js";
import { filePatterns } from "./file-patterns.js";
import type { FoundSignal, FoundSource, LeftOut } from "./found.js";
import { isChannelName, type LongLayout } from "./layout.js";
import type { DraftQuestion } from "./questions.js";
import { namesOfColumn } from "./renamed.js";
import { counted, shown } from "./shown.js";
import type { UnusedName } from "./signals.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { standing } from "./words.js";
import { FILL_IN, list, scalar, type YamlLines } from "./yaml-lines.js";

/** More are not said with their reasons. */
const MOST_LEFT_OUT = 12;

/** What is written besides the sources themselves. */
interface AboutSources {
  /** Questions about channels that seem to have been renamed. */
  readonly renamed: readonly DraftQuestion[];
  readonly signals: readonly FoundSignal[];
  readonly leftOut: readonly LeftOut[];
  readonly clocks: ClocksFound;
  readonly unused: ReadonlyMap<FoundSource, readonly UnusedName[]>;
}

/** Writes `sources:`, each with what speaks for it. */
export function writeSources(lines: YamlLines, sources: readonly FoundSource[], { renamed, signals, leftOut, clocks, unused }: AboutSources): void {
  for (const question of renamed) lines.ask(0, question);
  lines.add("# Where the exports are and how they are written.");
  lines.add("sources:");
  const allNames = sources.flatMap(({ tables }) => tables.map(({ name }) => name));
  for (const source of sources) {
    const names = source.tables.map(({ name }) => name);
    const files = filePatterns(
      names,
      allNames.filter((name) => !names.includes(name)),
    );
    const ours = signals.filter((signal) => signal.source === source);
    lines.add(`  ${scalar(source.id)}:`);
    writeLookedAt(lines, source);
    lines.add(`    files: ${oneOrList(files)}`);
    for (const question of source.open) lines.ask(4, question);
    writeTime(lines, source, clocks);
    writeLayout(lines, source, ours);
    writeWordsOfNothing(lines, source);
    writeLeftOut(
      lines,
      source,
      leftOut.filter(({ signal }) => signal.source === source),
      unused.get(source) ?? [],
    );
  }
  lines.add("");
}

/** What is not used, and why; named once, so that a check can tell what is new in another month. */
function writeLeftOut(lines: YamlLines, source: FoundSource, leftOut: readonly LeftOut[], unused: readonly UnusedName[]): void {
  const { layout, header, timeColumn } = source;
  if (leftOut.length > 0) {
    const said = leftOut.slice(0, MOST_LEFT_OUT).map(({ signal, why }) => `${signal.name} (${why})`);
    lines.guess(4, `left out, as nothing shows that they are of a bay, a door or a person: ${said.join("; ")}${leftOut.length > MOST_LEFT_OUT ? "; …" : ""}`);
  }
  const reasons = [...source.unused.map((name) => `column ${shown(name)}`), ...unused.map(({ says }) => says)];
  if (reasons.length > 0) lines.note(4, `not used: ${reasons.slice(0, 12).join("; ")}`);
  const names = [...leftOut.map(({ signal }) => signal.name), ...unused.map(({ name }) => name), ...(layout.form === "wide" ? source.unused : [])];
  const known = [...new Set(names)].filter((name) => name.trim() !== "" && !hasUnprintable(name) && name !== cellAt(header, timeColumn));
  if (known.length > 0) lines.add(`    leave_out: ${list(known)}`);
}

/** A column by its name, or by all of its names over time. */
function columnText(source: FoundSource, column: number): string {
  return oneOrList(namesOfColumn(source, column));
}

function oneOrList(texts: readonly string[]): string {
  const [only, ...others] = texts;
  return only !== undefined && others.length === 0 ? scalar(only) : list(texts);
}

function writeLookedAt(lines: YamlLines, source: FoundSource): void {
  const { tables, header } = source;
  // The files of a source are written alike.
  const { text, rowsAre } = tables[0].traits;
  const rows = sum(tables, (table) => table.rows.length);
  const cut = tables.filter(({ cutOff }) => cutOff);
  const columns = text === null && rowsAre.startsWith("rows") ? `, of ${header.length} columns` : "";
  const files = tables.length === 1 ? "1 file" : `${tables.length} files`;
  lines.note(4, `${files}, ${extentOf(tables)}: ${counted(rows)} ${rowsAre}${columns}${oddText(source)}`);
  if (cut.length > 0) lines.guess(4, `${cut.map(({ name }) => shown(name)).join(", ")} stops in the middle: what came after is missing`);
  if (text === null) return;
  const { encoding, because } = text.encoding;
  lines.note(4, `text is ${encoding}: ${encodingEvidence[because]}`);
  if (because === "not utf-8" || because === "zero bytes") lines.add(`    encoding: ${encoding}`);
}

const encodingEvidence = {
  valid: "the bytes read as UTF-8",
  "not utf-8": "some bytes are not UTF-8, and Windows-1252 is what such exports usually are",
  "zero bytes": "every other byte is zero, as only UTF-16 has it",
  "byte order mark": "a byte order mark says so",
} as const;

/** How much of the files was looked at. */
function extentOf(tables: readonly ExportSample[]): string {
  const parts = tables.filter(({ whole }) => !whole);
  if (parts.length === 0) return tables.some(({ cutOff }) => cutOff) ? "read as far as it goes" : "read whole";
  const megabytes = Math.ceil(sum(tables, ({ bytes }) => bytes) / 1e6);
  const which = parts.length === tables.length ? "each" : `${parts.length} of them`;
  return `of ${which} the head, the tail and evenly spaced parts between (of ${counted(megabytes)} MB in all)`;
}

function oddText({ tables, header }: FoundSource): string {
  const odd = sum(tables, ({ oddRows }) => oddRows);
  if (odd === 0) return "";
  if (tables[0].traits.hasTracks) return `, and ${odd === 1 ? "1 place" : `${counted(odd)} places`} where the markup is broken`;
  const how = odd === 1 ? "repeats the header or does" : "repeat the header or do";
  return `, and ${counted(odd)} that ${how} not have its ${header.length} cells`;
}

function writeTime(lines: YamlLines, source: FoundSource, clocks: ClocksFound): void {
  const { counts, timeOfDay } = source;
  if (counts !== undefined) {
    lines.guess(4, source.timeEvidence);
    lines.note(4, "one start for one run of the device: files of another run need a source of their own");
    const line = `    time: { column: ${columnText(source, source.timeColumn)}, written: ${counts.written}, start: ${counts.start === null ? FILL_IN : scalar(counts.start)} }`;
    if (counts.question === null) lines.add(line);
    else lines.ask(4, counts.question, line);
    return;
  }
  lines.note(4, source.timeEvidence);
  const clock = clocks.sources.get(source);
  if (clock?.open !== null && clock !== undefined) lines.ask(4, clock.open);
  else if (clock !== undefined) lines.note(4, clock.evidence);
  else {
    lines.note(
      4,
      source.written.startsWith("epoch-")
        ? "counted from 1970-01-01 UTC: no zone needed"
        : "every stamp carries its offset from UTC: no zone needed",
    );
  }
  const zone = clock?.zone === null || clock === undefined ? "" : `, zone: ${scalar(clock.zone)}`;
  const and = timeOfDay === undefined ? "" : `, and: ${columnText(source, timeOfDay)}`;
  lines.add(`    time: { column: ${columnText(source, source.timeColumn)}${and}, written: ${scalar(source.written)}${zone} }`);
}

function writeLayout(lines: YamlLines, source: FoundSource, signals: readonly FoundSignal[]): void {
  const { layout } = source;
  if (source.otherHeaders !== undefined) {
    const names = source.header.flatMap((_, column) => (namesOfColumn(source, column).length > 1 ? [namesOfColumn(source, column).map(shown).join(" is later ")] : []));
    lines.guess(4, `columns were renamed from one file to the next: ${names.join("; ")}`);
  }
  writeDelimiter(lines, source);
  writeDecimal(lines, source);
  if (layout.because !== undefined) lines.note(4, layout.because);
  if (layout.form === "long") writeLong(lines, source, layout);
  else writeWide(lines, source, signals);
}

function writeDelimiter(lines: YamlLines, { tables, header }: FoundSource): void {
  const { text } = tables[0].traits;
  if (text === null) return;
  const { delimiter, fitting } = text.delimiter;
  const share = `${Math.round(1000 * fitting) / 10} % of the first rows have ${header.length} cells with it`;
  lines.note(4, `${delimiter === "\t" ? "a tab" : shown(delimiter)} separates the columns: ${share}`);
  if (delimiter !== ",") lines.add(`    delimiter: ${delimiter === "\t" ? "tab" : scalar(delimiter)}`);
}

function writeDecimal(lines: YamlLines, { tables }: FoundSource): void {
  const commas = sum(tables, (table) => cellsLike(table, DECIMAL_COMMA));
  const points = sum(tables, (table) => cellsLike(table, DECIMAL_POINT));
  if (commas > points) {
    const first = `of the first numbers ${counted(commas)} are written so, ${counted(points)} with a point`;
    lines.note(4, `a comma stands before decimals: ${first}`);
    lines.add("    decimal: comma");
  }
  if (commas > 0 && points > 0) {
    const both = `numbers are written with a comma (${counted(commas)} of the first) and with a point (${counted(points)})`;
    lines.guess(4, `${both}: those with a ${commas > points ? "point" : "comma"} will be set aside`);
  }
}

function writeLong(lines: YamlLines, source: FoundSource, { signal, value, latitude, longitude }: LongLayout): void {
  const channel = cellAt(source.header, signal);
  if (isChannelName(channel)) lines.note(4, "one reading a row");
  else lines.guess(4, `one reading a row: the texts of ${shown(channel)} are taken for names of signals, not for states of one`);
  lines.add(`    signal: ${columnText(source, signal)}`);
  if (value !== null) lines.add(`    value: ${columnText(source, value)}`);
  if (latitude === null || longitude === null) return;
  lines.add(`    latitude: ${scalar(cellAt(source.header, latitude))}`);
  lines.add(`    longitude: ${scalar(cellAt(source.header, longitude))}`);
}

function writeWide(lines: YamlLines, source: FoundSource, signals: readonly FoundSignal[]): void {
  const nameOf = (column: number): string => columnText(source, column);
  lines.note(4, "a column a signal");
  lines.add("    each:");
  for (const { id, columns } of signals) {
    const written =
      "latitude" in columns ? `{ latitude: ${nameOf(columns.latitude)}, longitude: ${nameOf(columns.longitude)} }` : nameOf(columns.value);
    lines.add(`      ${scalar(id)}: ${written}`);
  }
}

/** The cells that say nothing, and those by which a sensor says that it does not know. */
function writeWordsOfNothing(lines: YamlLines, source: FoundSource): void {
  const { layout } = source;
  const columns = layout.form === "long" ? (layout.value === null ? [] : [layout.value]) : layout.values;
  const counts = new Map<string, number>();
  for (const { rows } of source.tables) {
    for (const { cells } of rows) {
      for (const column of columns) {
        const cell = cellAt(cells, column).trim();
        if (standing(cell) !== "news") counts.set(cell, (counts.get(cell) ?? 0) + 1);
      }
    }
  }
  // A column a signal: a cell stands there because the row is about another signal. A reading a row: the row is about this one.
  const isLost = (word: string): boolean => standing(word) === "lost" || (layout.form === "long" && word !== "");
  const words = [...counts.keys()].sort();
  const missing = words.filter((word) => !isLost(word));
  const lost = words.filter(isLost);
  const said = (texts: readonly string[]): string => texts.map((text) => `${shown(text)} (${counted(counts.get(text) ?? 0)})`).join(", ");
  if (missing.some((word) => word !== "")) {
    lines.guess(4, `cells taken to say nothing: ${said(missing)}`);
    lines.add(`    missing: ${list([...new Set(["", ...missing])])}`);
  }
  if (lost.length > 0) {
    lines.guess(4, `cells taken to say that the sensor itself does not know: ${said(lost)}`);
    lines.add(`    lost: ${list(lost)}`);
  }
}

const DECIMAL_COMMA = /^\s*[+-]?\d+,\d+\s*$/;
const DECIMAL_POINT = /^\s*[+-]?\d+\.\d+\s*$/;
/** Rows of each file that are looked at for the decimal sign. */
const LOOKED_AT_ROWS = 1_000;

function cellsLike({ rows }: ExportSample, sign: RegExp): number {
  return sum(rows.slice(0, LOOKED_AT_ROWS), ({ cells }) => cells.filter((cell) => sign.test(cell)).length);
}
