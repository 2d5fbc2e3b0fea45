import { groups } from "d3-array";
import type { ProblemParts } from "../ground/problem.js";
import type { ExportSample } from "../intake/sample-exports.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { filePatterns } from "./file-patterns.js";
import type { FoundSource, Tables } from "./found.js";
import { findLayout, lookAt, type LayoutFound } from "./layout.js";
import { freeName, plainName } from "./names.js";
import { shown } from "./shown.js";
import { trackGroups, trackLayout } from "./tracks.js";
import { findWriting, nearestWriting, type PlacedCell, type WritingFound } from "./time-writing.js";

/** More columns are not listed in a message. */
const MOST_COLUMNS_LISTED = 30;

/**
 * Files whose rows and columns are alike, written alike, are one source; files of tracks, which all have the same columns,
 * only if they may be of one device. Problems: files in which no column holds time stamps.
 */
export function findSources(tables: readonly ExportSample[], taken: Set<string>, problems: ProblemParts[]): FoundSource[] {
  const alike = groups(tables, ({ header, traits: { rowsAre, text } }) =>
    JSON.stringify([rowsAre, text?.delimiter.delimiter, text?.encoding.encoding, header]),
  );
  const ofOneDevice = alike.flatMap(([, group]) => (group[0]?.traits.hasTracks === true ? trackGroups(group) : [group]));
  return ofOneDevice.flatMap(([first, ...others]) => {
    if (first === undefined) return [];
    const source = findSource([first, ...others], taken);
    if (!("code" in source)) return [source];
    problems.push(source);
    return [];
  });
}

/** A column that can be named: no other is called so. */
interface NamedColumn {
  readonly name: string;
  readonly index: number;
}

interface TimeColumn extends NamedColumn {
  readonly writing: WritingFound;
}

function findSource(tables: Tables, taken: Set<string>): FoundSource | ProblemParts {
  const [{ header, traits }] = tables;
  const named = header
    .map((name, index) => ({ name, index }))
    .filter(({ name }) => name !== "" && !hasUnprintable(name) && header.indexOf(name) === header.lastIndexOf(name));
  const timed = timeColumns(tables, named);
  const [time, ...furtherTimes] = timed;
  if (time === undefined) return withoutTime(tables, named);
  const { writing } = time;
  const rows = tables.flatMap((table) => table.rows.map(({ cells }) => cells));
  const others = named.filter(({ index }) => !timed.some((column) => column.index === index));
  const id = freeName(sourceName(tables), taken);
  const layout = traits.hasTracks ? trackLayout(tables, id) : findLayout(others.map(({ name, index }) => lookAt(name, index, rows)));
  const timestamps = traits.timestamps.get(time.name);
  const used = new Set([time.index, ...columnsOf(layout)]);
  return {
    id,
    tables,
    header,
    timeColumn: time.index,
    written: writing.written,
    timeEvidence: timestamps === undefined ? writing.evidence : `the column holds timestamps ${timestamps}; ${writing.evidence}`,
    offsets: writing.offsets,
    layout,
    unused: header.filter((_, index) => !used.has(index)),
    open: openQuestions(time, furtherTimes, layout),
  };
}

/** The columns that hold time stamps, the one with the largest readable share first. */
function timeColumns(tables: Tables, columns: readonly NamedColumn[]): TimeColumn[] {
  const { hasTracks } = tables[0].traits;
  return (
    columns
      // Tracks may be called after the day they were recorded.
      .filter(({ name }) => !hasTracks || name === "time")
      .flatMap((column) => {
        const writing = findWriting(timeCells(tables, column.index));
        return writing === null ? [] : [{ ...column, writing }];
      })
      .sort((a, b) => b.writing.readable / b.writing.cells - a.writing.readable / a.writing.cells)
  );
}

/** The problem of exports in which no column holds time stamps. */
function withoutTime(tables: Tables, columns: readonly NamedColumn[]): ProblemParts {
  const [{ header, traits, name: file }] = tables;
  const at = { code: "column-missing", file, ...(traits.text === null ? {} : { line: 1 }) } as const;
  const near = columns.flatMap(({ name, index }) => {
    const nearest = nearestWriting(timeCells(tables, index));
    return nearest === null ? [] : [`in column ${shown(name)} ${nearest}`];
  });
  if (near.length > 0) {
    return {
      ...at,
      what: "No column holds time stamps that are all written in one way",
      expected: "one column with date and time, written the same in every row",
      found: near.join("; "),
      mend: "export all stamps in one way, or set the other rows apart in a file of their own",
    };
  }
  return {
    ...at,
    what: "No column holds time stamps that can be read",
    expected:
      "one column with date and time: ISO 8601, seconds or milliseconds since 1970, or day, month, year and time as 31/10/2026 23:51:18",
    found: `the columns ${header
      .slice(0, MOST_COLUMNS_LISTED)
      .map((name) => `"${name.slice(0, 60)}"`)
      .join(", ")}`,
    mend: "export date and time in one column, written so, or write the site file by hand with a pattern: docs/site-file.md",
  };
}

/** The columns that a layout takes readings or signals from. */
function columnsOf(layout: LayoutFound): number[] {
  if (layout.form === "wide") return [...layout.values, ...layout.positions.flatMap(({ latitude, longitude }) => [latitude, longitude])];
  return [layout.signal, layout.value, layout.latitude, layout.longitude].filter((column) => column !== null);
}

function openQuestions({ name, writing }: TimeColumn, furtherTimes: readonly TimeColumn[], layout: LayoutFound): string[] {
  const others = furtherTimes.map((column) => `"${column.name}"`).join(", ");
  return [
    writing.open,
    others === "" ? null : `which column has the time of the reading? "${name}" is taken; ${others} could be it too`,
    writing.offsets === "some" ? "some stamps carry their offset from UTC and some do not: whose clock wrote those without?" : null,
    layout.unsure,
  ].filter((question) => question !== null);
}

function timeCells(tables: readonly ExportSample[], index: number): PlacedCell[] {
  return tables.flatMap(({ rows, traits }) => rows.map(({ cells, line }) => ({ text: cells[index] ?? "", line, isLine: traits.hasLines })));
}

/** After the files: `board` of board-2026-10-01.csv.gz. */
function sourceName(tables: readonly ExportSample[]): string {
  const [pattern = ""] = filePatterns(
    tables.map(({ name }) => name),
    [],
  );
  const base = pattern
    .slice(pattern.lastIndexOf("/") + 1)
    .replace(/\.gz$/i, "")
    .replace(/\.[^.]*$/, "");
  return plainName(base.replace(/\d+(?:[-_.]?\d+)*|\*/g, "").replace(/^[-_. ]+|[-_. ]+$/g, ""), "log");
}
