import type { ClocksFound } from "./clocks.js";
import type { ColumnSample } from "./column-sample.js";
import { filePatterns } from "./file-patterns.js";
import type { FoundSignal, FoundSource } from "./found.js";
import { isChannelName } from "./layout.js";
import { counted, shown, type Sample } from "./sample.js";
import { standing } from "./words.js";
import { writeColumnsLookedAt } from "./write-looked-at.js";
import { list, scalar, type YamlLines } from "./yaml-lines.js";

/** Writes `sources:`, each with what speaks for it. */
export function writeSources(lines: YamlLines, sources: readonly FoundSource[], signals: readonly FoundSignal[], clocks: ClocksFound, samples: readonly (Sample | ColumnSample)[], unused: ReadonlyMap<FoundSource, readonly string[]>): void {
  lines.add("# Where the exports are and how they are written.");
  lines.add("sources:");
  const allNames = sources.flatMap(({ tables }) => tables.map(({ name }) => name));
  for (const source of sources) {
    const names = source.tables.map(({ name }) => name);
    const files = filePatterns(names, allNames.filter((name) => !names.includes(name)));
    const ours = signals.filter((signal) => signal.source === source);
    lines.add(`  ${scalar(source.id)}:`);
    if (source.tables[0]!.format.form === "text") writeLookedAt(lines, source, samples.filter((sample) => "pieces" in sample));
    else writeColumnsLookedAt(lines, source, samples);
    lines.add(`    files: ${files.length === 1 ? scalar(files[0]!) : list(files)}`);
    for (const question of source.open) lines.ask(4, `source ${source.id}: ${question}`);
    writeTime(lines, source, clocks);
    writeLayout(lines, source, ours);
    writeWordsOfNothing(lines, source);
    const reasons = unused.get(source) ?? [];
    if (source.unused.length + reasons.length > 0) lines.note(4, `not used: ${[...source.unused.map((name) => `column ${shown(name)}`), ...reasons].slice(0, 12).join("; ")}`);
  }
  lines.add("");
}

function writeLookedAt(lines: YamlLines, source: FoundSource, samples: readonly Sample[]): void {
  const { tables } = source;
  const rows = tables.reduce((sum, table) => sum + table.rows.length, 0);
  const odd = tables.reduce((sum, table) => sum + table.oddRows, 0);
  const parts = tables.filter(({ whole }) => !whole);
  const bytes = samples.filter(({ name }) => tables.some((table) => table.name === name)).reduce((sum, sample) => sum + sample.bytes, 0);
  const extent = parts.length === 0 ? "read whole" : `of ${parts.length === tables.length ? "each" : `${parts.length} of them`} the head, the tail and evenly spaced parts between (of ${counted(Math.ceil(bytes / 1e6))} MB in all)`;
  lines.note(4, `${tables.length === 1 ? "1 file" : `${tables.length} files`}, ${extent}: ${counted(rows)} rows${odd > 0 ? `, and ${counted(odd)} that ${odd === 1 ? "repeats the header or does" : "repeat the header or do"} not have its ${source.header.length} cells` : ""}`);
  const cut = samples.filter(({ name, cutOff }) => cutOff === true && tables.some((table) => table.name === name));
  if (cut.length > 0) lines.guess(4, `${cut.map(({ name }) => name).join(", ")} stops in the middle: what came after is missing`);
  const { encoding, because } = tables[0]!.encoding;
  lines.note(4, `text is ${encoding}: ${because === "valid" ? "the bytes read as UTF-8" : because === "not utf-8" ? "some bytes are not UTF-8, and Windows-1252 is what such exports usually are" : because === "zero bytes" ? "every other byte is zero, as only UTF-16 has it" : "a byte order mark says so"}`);
  if (because === "not utf-8" || because === "zero bytes") lines.add(`    encoding: ${encoding}`);
}

function writeTime(lines: YamlLines, source: FoundSource, clocks: ClocksFound): void {
  lines.note(4, source.timeEvidence);
  const clock = clocks.sources.get(source);
  if (clock?.open !== null && clock !== undefined) lines.ask(4, `source ${source.id}: ${clock.open}`);
  else if (clock !== undefined) lines.note(4, clock.evidence);
  else lines.note(4, source.written.startsWith("epoch-") ? "counted from 1970-01-01 UTC: no zone needed" : "every stamp carries its offset from UTC: no zone needed");
  const zone = clock?.zone === null || clock === undefined ? "" : `, zone: ${scalar(clock.zone)}`;
  lines.add(`    time: { column: ${scalar(source.header[source.timeColumn]!)}, written: ${scalar(source.written)}${zone} }`);
}

function writeLayout(lines: YamlLines, source: FoundSource, signals: readonly FoundSignal[]): void {
  const { delimiter, fitting } = source.tables[0]!.delimiter;
  if (source.tables[0]!.format.form === "text") lines.note(4, `${delimiter === "\t" ? "a tab" : shown(delimiter)} separates the columns: ${Math.round(1000 * fitting) / 10} % of the first rows have ${source.header.length} cells with it`);
  if (delimiter !== ",") lines.add(`    delimiter: ${delimiter === "\t" ? "tab" : scalar(delimiter)}`);
  const commas = sumOf(source, "decimalCommas");
  const points = sumOf(source, "decimalPoints");
  if (commas > points) {
    lines.note(4, `a comma stands before decimals: of the first numbers ${counted(commas)} are written so, ${counted(points)} with a point`);
    lines.add("    decimal: comma");
  }
  if (commas > 0 && points > 0) lines.guess(4, `numbers are written with a comma (${counted(commas)} of the first) and with a point (${counted(points)}): those with a ${commas > points ? "point" : "comma"} will be set aside`);
  const { layout, header } = source;
  if (layout.because !== undefined) lines.note(4, layout.because);
  if (layout.form === "long") {
    const channel = header[layout.signal]!;
    if (isChannelName(channel)) lines.note(4, "one reading a row");
    else lines.guess(4, `one reading a row: the texts of ${shown(channel)} are taken for names of signals, not for states of one`);
    lines.add(`    signal: ${scalar(header[layout.signal]!)}`);
    if (layout.value !== null) lines.add(`    value: ${scalar(header[layout.value]!)}`);
    if (layout.latitude !== null && layout.longitude !== null) {
      lines.add(`    latitude: ${scalar(header[layout.latitude]!)}`);
      lines.add(`    longitude: ${scalar(header[layout.longitude]!)}`);
    }
    return;
  }
  lines.note(4, "a column a signal");
  lines.add("    each:");
  for (const { id, columns } of signals) {
    lines.add("latitude" in columns ? `      ${scalar(id)}: { latitude: ${scalar(header[columns.latitude]!)}, longitude: ${scalar(header[columns.longitude]!)} }` : `      ${scalar(id)}: ${scalar(header[columns.value]!)}`);
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
        const cell = cells[column]!.trim();
        if (standing(cell) !== "news") counts.set(cell, (counts.get(cell) ?? 0) + 1);
      }
    }
  }
  // A column a signal: a cell stands there because the row is about another signal. A reading a row: the row is about this one.
  const isLost = (word: string): boolean => standing(word) === "lost" || (layout.form === "long" && word !== "");
  const words = [...counts.keys()].sort();
  const missing = words.filter((word) => !isLost(word));
  const lost = words.filter(isLost);
  const said = (texts: readonly string[]): string => texts.map((text) => `${shown(text)} (${counted(counts.get(text)!)})`).join(", ");
  if (missing.some((word) => word !== "")) {
    lines.guess(4, `cells taken to say nothing: ${said(missing)}`);
    lines.add(`    missing: ${list([...new Set(["", ...missing])])}`);
  }
  if (lost.length > 0) {
    lines.guess(4, `cells taken to say that the sensor itself does not know: ${said(lost)}`);
    lines.add(`    lost: ${list(lost)}`);
  }
}

function sumOf(source: FoundSource, key: "decimalCommas" | "decimalPoints"): number {
  return source.tables.reduce((sum, { delimiter }) => sum + delimiter[key], 0);
}
