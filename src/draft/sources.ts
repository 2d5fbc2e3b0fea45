import { groups } from "d3-array";
import type { ProblemParts } from "../ground/problem.js";
import type { ExportSample } from "../intake/sample-exports.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { deviceGroups } from "./devices.js";
import { undated } from "./file-patterns.js";
import type { FoundSource, Tables } from "./found.js";
import { findLayout, lookAt, type LayoutFound } from "./layout.js";
import { freeName, plainName, saysNothing } from "./names.js";
import { choicesOf, plainQuestion, type Answers, type DraftQuestion } from "./questions.js";
import { shown } from "./shown.js";
import { trackGroups, trackLayout } from "./tracks.js";
import { joinRenamed } from "./renamed.js";
import { findTimes, timeCells, type NamedColumn, type TimeColumn } from "./time-columns.js";
import { nearestWriting, type WritingFound } from "./time-writing.js";

/** More columns are not listed in a message. */
const MOST_COLUMNS_LISTED = 30;

/**
 * Files whose rows and columns are alike, written alike, are one source, if they may be of one device: two files that tell different
 * things of the same time are not. Problems: files in which no column holds time stamps.
 */
export function findSources(tables: readonly ExportSample[], taken: Set<string>, problems: ProblemParts[], answers: Answers): FoundSource[] {
  const alike = groups(tables, ({ header, traits: { rowsAre, text } }) =>
    JSON.stringify([rowsAre, text?.delimiter.delimiter, text?.encoding.encoding, header]),
  );
  const ofOneDevice = alike.flatMap(([, group]) => (group[0]?.traits.hasTracks === true ? trackGroups(group) : [group]));
  const found = ofOneDevice.flatMap(([first, ...others]) => {
    if (first === undefined) return [];
    const source = findSource([first, ...others], answers);
    if ("code" in source) {
      problems.push(source);
      return [];
    }
    const devices = first.traits.hasTracks || others.length === 0 ? [source.tables] : deviceGroups(source);
    return devices.flatMap((tables) => named(tables, devices.length === 1 ? source : null, { taken, problems, answers }));
  });
  return joinRenamed(found);
}

interface Finding {
  readonly taken: Set<string>;
  readonly problems: ProblemParts[];
  readonly answers: Answers;
}

/** The source of some files, under a name that is free. `known`: the source, if it was found already. */
function named(tables: readonly ExportSample[], known: FoundSource | null, { taken, problems, answers }: Finding): FoundSource[] {
  const [first, ...others] = tables;
  if (first === undefined) return [];
  const found = known ?? findSource([first, ...others], answers);
  if (!("code" in found)) return [{ ...found, id: freeName(found.id, taken) }];
  problems.push(found);
  return [];
}

function findSource(given: Tables, answers: Answers): FoundSource | ProblemParts {
  const [{ header, traits, name: firstFile }] = given;
  const named = header
    .map((name, index) => ({ name, index }))
    .filter(({ name }) => name !== "" && !hasUnprintable(name) && header.indexOf(name) === header.lastIndexOf(name));
  const { tables, columns: timed, timeOfDay, counts } = findTimes(given, named, answers);
  const saidColumn = answers.get(`time:${firstFile}`);
  const [time, ...furtherTimes] = [...timed].sort((a, b) => Number(b.name === saidColumn) - Number(a.name === saidColumn));
  if (time === undefined) return withoutTime(tables, named);
  const writing = writingSaid(time.writing, answers.get(`written:${firstFile}`));
  const rows = tables.flatMap((table) => table.rows.map(({ cells }) => cells));
  const others = named.filter(({ index }) => index !== timeOfDay && !timed.some((column) => column.index === index));
  const id = sourceName(tables);
  const layout = traits.hasTracks ? trackLayout(tables, id) : findLayout(others.map(({ name, index }) => lookAt(name, index, rows)), answers.get(`layout:${firstFile}`) ?? null);
  const timestamps = traits.timestamps.get(time.name);
  const used = new Set([time.index, timeOfDay, ...columnsOf(layout)]);
  return {
    id,
    tables,
    header,
    timeColumn: time.index,
    ...(timeOfDay === undefined ? {} : { timeOfDay }),
    ...(counts === undefined ? {} : { counts }),
    written: writing.written,
    timeEvidence: timestamps === undefined ? writing.evidence : `the column holds timestamps ${timestamps}; ${writing.evidence}`,
    offsets: writing.offsets,
    layout,
    unused: header.filter((_, index) => !used.has(index)),
    open: openQuestions(id, firstFile, { ...time, writing }, saidColumn === undefined ? furtherTimes : [], layout),
  };
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
      "a column with date and time, or one each: ISO 8601, seconds or milliseconds since 1970, or day, month, year and time as 31/10/2026 23:51:18",
    found: `the columns ${header
      .slice(0, MOST_COLUMNS_LISTED)
      .map((name) => `"${name.slice(0, 60)}"`)
      .join(", ")}`,
    mend: "export date and time written so, or write the site file by hand with a pattern: docs/site-file.md",
  };
}

/** The columns that a layout takes readings or signals from. */
function columnsOf(layout: LayoutFound): number[] {
  if (layout.form === "wide") return [...layout.values, ...layout.positions.flatMap(({ latitude, longitude }) => [latitude, longitude])];
  return [layout.signal, layout.value, layout.latitude, layout.longitude].filter((column) => column !== null);
}

/** The way of writing that the person chose, if it is one of the two that read equally well. */
function writingSaid(writing: WritingFound, said: string | undefined): WritingFound {
  if (said === undefined || (said !== writing.written && said !== writing.rival)) return writing;
  const evidence = said === writing.written ? writing.evidence : writing.evidence.replace(writing.written, said);
  return { ...writing, written: said, rival: null, open: null, evidence: `${evidence}; you said so` };
}

function openQuestions(id: string, file: string, { name, writing }: TimeColumn, furtherTimes: readonly TimeColumn[], layout: LayoutFound): DraftQuestion[] {
  const others = furtherTimes.map((column) => `"${column.name}"`).join(", ");
  const about = (text: string): DraftQuestion => plainQuestion(`source ${id}: ${text}`);
  return [
    writing.open === null
      ? null
      : { ...about(writing.open), id: `written:${file}`, choices: choicesOf([writing.written, writing.rival ?? ""].filter((one) => one !== "")) },
    others === ""
      ? null
      : {
          ...about(`which column has the time of the reading? "${name}" is taken; ${others} could be it too`),
          id: `time:${file}`,
          choices: choicesOf([name, ...furtherTimes.map((column) => column.name)]),
        },
    writing.offsets === "some" ? about("some stamps carry their offset from UTC and some do not: whose clock wrote those without?") : null,
    layout.unsure === null ? null : { ...about(layout.unsure), id: `layout:${file}`, choices: layout.choices ?? [] },
  ].filter((question) => question !== null);
}

/** After the files: `board` of board-2026-10-01.csv.gz; after their folder where they say nothing themselves. */
function sourceName(tables: readonly ExportSample[]): string {
  return plainName(fileWords(tables), "log");
}

/** What the name of the first file says, without dates, endings and digits that the files of a source do not share. */
export function fileWords(tables: readonly ExportSample[]): string {
  const [first = "", ...others] = tables.map(({ name }) => undated(name));
  const parts = first.split("/").map((part) => part.replace(/\.gz$/i, "").replace(/\.[^. ]*$/, ""));
  const shared = others.every((other) => other === first);
  const words = parts.map((part) => (shared ? part : part.replace(/\d+(?:[-_.]?\d+)*/g, "*")).replace(/^[-_. *]+|[-_. *]+$/g, "").replaceAll("*", " "));
  const [base = "", folder = ""] = words.filter((part) => part !== "" && part !== "..").reverse();
  return folder !== "" && saysNothing(base) ? `${folder} ${base}` : base;
}
