import { groups } from "d3-array";
import type { ProblemParts } from "../ground/problem.js";
import type { ExportSample } from "../intake/sample-exports.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { filePatterns } from "./file-patterns.js";
import type { FoundSource } from "./found.js";
import { findLayout, lookAt } from "./layout.js";
import { freeName, plainName } from "./names.js";
import { shown } from "./shown.js";
import { trackGroups, trackLayout } from "./tracks.js";
import { findWriting, nearestWriting, type PlacedCell } from "./time-writing.js";

/**
 * Files whose rows and columns are alike, written alike, are one source; files of tracks, which all have the same columns,
 * only if they may be of one device. Problems: files in which no column holds time stamps.
 */
export function findSources(tables: readonly ExportSample[], taken: Set<string>, problems: ProblemParts[]): FoundSource[] {
  const alike = groups(tables, ({ header, traits: { rowsAre, text } }) => JSON.stringify([rowsAre, text?.delimiter.delimiter, text?.encoding.encoding, header]));
  return alike.flatMap(([, group]) => (group[0]?.traits.hasTracks === true ? trackGroups(group) : [group])).flatMap((group) => {
    const source = findSource(group, taken);
    if (!("code" in source)) return [source];
    problems.push(source);
    return [];
  });
}

function findSource(tables: readonly ExportSample[], taken: Set<string>): FoundSource | ProblemParts {
  const [first] = tables;
  const { header, traits, name: file } = first!;
  const once = header.map((name, index) => ({ name, index })).filter(({ name }) => name !== "" && !hasUnprintable(name) && header.indexOf(name) === header.lastIndexOf(name));
  // Tracks may be called after the day they were recorded.
  const timed = once.filter(({ name }) => !traits.hasTracks || name === "time").flatMap((column) => {
    const writing = findWriting(timeCells(tables, column.index));
    return writing === null ? [] : [{ column, writing }];
  });
  const [time, ...furtherTimes] = timed.sort((a, b) => b.writing.readable / b.writing.cells - a.writing.readable / a.writing.cells);
  if (time === undefined) {
    const at = { file, ...(traits.text === null ? {} : { line: 1 }) };
    const near = once.flatMap(({ name, index }) => {
      const nearest = nearestWriting(timeCells(tables, index));
      return nearest === null ? [] : [`in column ${shown(name)} ${nearest}`];
    });
    if (near.length > 0) return { code: "column-missing", what: "No column holds time stamps that are all written in one way", ...at, expected: "one column with date and time, written the same in every row", found: near.join("; "), mend: "export all stamps in one way, or set the other rows apart in a file of their own" };
    return { code: "column-missing", what: "No column holds time stamps that can be read", ...at, expected: "one column with date and time: ISO 8601, seconds or milliseconds since 1970, or day, month, year and time as 31/10/2026 23:51:18", found: `the columns ${header.slice(0, 30).map((name) => `"${name.slice(0, 60)}"`).join(", ")}`, mend: "export date and time in one column, written so, or write the site file by hand with a pattern: docs/site-file.md" };
  }
  const rows: readonly (readonly string[])[] = tables.flatMap((table) => table.rows.map(({ cells }) => cells));
  const columns = once.filter(({ index }) => !timed.some(({ column }) => column.index === index)).map(({ name, index }) => lookAt(name, index, rows));
  const id = freeName(sourceName(tables), taken);
  const layout = traits.hasTracks ? trackLayout(tables, id) : findLayout(columns);
  const timestamps = traits.timestamps.get(time.column.name);
  const used = new Set(layout.form === "long" ? [layout.signal, layout.value, layout.latitude, layout.longitude] : [...layout.values, ...layout.positions.flatMap(({ latitude, longitude }) => [latitude, longitude])]);
  const open = [
    ...(time.writing.open === null ? [] : [time.writing.open]),
    ...(furtherTimes.length === 0 ? [] : [`which column has the time of the reading? "${time.column.name}" is taken; ${furtherTimes.map(({ column }) => `"${column.name}"`).join(", ")} could be it too`]),
    ...(time.writing.offsets === "some" ? ["some stamps carry their offset from UTC and some do not: whose clock wrote those without?"] : []),
    ...(layout.unsure === null ? [] : [layout.unsure]),
  ];
  return {
    id,
    tables,
    header,
    timeColumn: time.column.index,
    written: time.writing.written,
    timeEvidence: timestamps === undefined ? time.writing.evidence : `the column holds timestamps ${timestamps}; ${time.writing.evidence}`,
    offsets: time.writing.offsets,
    layout,
    unused: header.filter((_, index) => index !== time.column.index && !used.has(index)),
    open,
  };
}

function timeCells(tables: readonly ExportSample[], index: number): PlacedCell[] {
  return tables.flatMap(({ rows, traits }) => rows.map(({ cells, line }) => ({ text: cells[index] ?? "", line, isLine: traits.hasLines })));
}

/** After the files: `board` of board-2026-10-01.csv.gz. */
function sourceName(tables: readonly ExportSample[]): string {
  const [pattern = ""] = filePatterns(tables.map(({ name }) => name), []);
  const base = pattern.slice(pattern.lastIndexOf("/") + 1).replace(/\.gz$/i, "").replace(/\.[^.]*$/, "");
  return plainName(base.replace(/\d+(?:[-_.]?\d+)*|\*/g, "").replace(/^[-_. ]+|[-_. ]+$/g, ""), "log");
}
