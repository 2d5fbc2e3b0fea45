import { InputError } from "../ground/problem.js";
import { HEAD_BYTES, makeTranscoder, sniffEncoding } from "./encoding.js";
import { LONGEST_RECORD, makeRecordSplitter, type RecordSplitter } from "./json-records.js";
import { LONGEST_RAW_CHARACTERS, type ChunkReader, type RowSink } from "./row-sink.js";

/** The keys of this many records, or of records of this length together, are the columns. Our own choice. */
const RECORDS_FOR_COLUMNS = 5_000;
const CHARACTERS_FOR_COLUMNS = 4_000_000;
/** Records within records up to this depth become columns, such as `place.lat`. Our own choice. */
const DEEPEST = 3;

type Cells = ReadonlyMap<string, string>;

/** How far a file has been read. */
interface State {
  readonly name: string;
  readonly sink: RowSink;
  /** The columns; null while the first records are gathered. */
  columns: readonly string[] | null;
  readonly first: { readonly cells: Cells | null; readonly text: string; readonly line: number }[];
  gathered: number;
}

/**
 * Reads JSON lines, or lists of JSON records, as if they were text with a header: the columns are the keys of the first 5,000 records, in
 * the order in which they come up; `true`, `false` and numbers are written as such, null and a key that is not there as an empty cell, a
 * record within a record as columns of its own (`place.lat`). What is no record is set aside. Throws `InputError` for a file in which
 * none is found.
 */
export function makeJsonReader(name: string, sink: RowSink): ChunkReader {
  const state: State = { name, sink, columns: null, first: [], gathered: 0 };
  const decoder = new TextDecoder("utf-8");
  let head = Buffer.alloc(0);
  let reading: { readonly push: (chunk: Uint8Array) => void; readonly splitter: RecordSplitter } | null = null;
  const begin = (): NonNullable<typeof reading> => {
    const transcoder = makeTranscoder(sniffEncoding(head.subarray(0, HEAD_BYTES)).encoding);
    const text = decoder.decode(transcoder.push(head), { stream: true });
    const splitter = makeRecordSplitter(text, {
      record: (record, line) => {
        takeRecord(state, record, line);
      },
      other: (other, line) => {
        takeOther(state, other, line);
      },
    });
    splitter.push(text);
    return { splitter, push: (chunk) => splitter.push(decoder.decode(transcoder.push(chunk), { stream: true })) };
  };
  return {
    push(chunk) {
      if (reading !== null) reading.push(chunk);
      else {
        head = Buffer.concat([head, chunk]);
        if (head.length >= LONGEST_RECORD) reading = begin();
      }
    },
    end(cutOff) {
      reading ??= begin();
      const { isCutOff } = reading.splitter.end();
      if (cutOff || isCutOff) sink.cutOff();
      if (state.columns === null) giveFirst(state);
    },
  };
}

function takeRecord(state: State, text: string, line: number): void {
  const cells = cellsOf(text);
  if (cells === null) takeOther(state, text, line);
  else if (state.columns === null) gather(state, cells, text, line);
  else giveCells(state, state.columns, cells, line);
}

function takeOther(state: State, text: string, line: number): void {
  if (state.columns === null) gather(state, null, text, line);
  else giveOther(state, text, line);
}

function gather(state: State, cells: Cells | null, text: string, line: number): void {
  state.first.push({ cells, text: cells === null ? text.slice(0, LONGEST_RECORD + 1) : "", line });
  state.gathered += text.length;
  if (state.first.length >= RECORDS_FOR_COLUMNS || state.gathered >= CHARACTERS_FOR_COLUMNS) giveFirst(state);
}

function giveFirst(state: State): void {
  const { first, sink, name } = state;
  const columns = [...new Set(first.flatMap(({ cells }) => [...(cells?.keys() ?? [])]))];
  if (columns.length === 0) {
    const [other] = first;
    if (other === undefined) return;
    throw new InputError([
      {
        code: "file-binary",
        what: "No JSON record was found in the file",
        file: name,
        line: other.line,
        expected: "JSON lines, or a list of JSON records",
        found: JSON.stringify(other.text.slice(0, 60)),
        mend: "export it as JSON lines or CSV; a file that is no JSON needs another ending",
      },
    ]);
  }
  state.columns = columns;
  sink.row(columns, 0, true);
  for (const { cells, text, line } of first.splice(0)) {
    if (cells === null) giveOther(state, text, line);
    else giveCells(state, columns, cells, line);
  }
}

function giveCells({ sink }: State, columns: readonly string[], cells: Cells, line: number): void {
  sink.row(columns.map((column) => cells.get(column) ?? ""), line, true);
}

function giveOther({ sink }: State, text: string, line: number): void {
  const raw = text.slice(0, LONGEST_RAW_CHARACTERS);
  if (text.length > LONGEST_RECORD) sink.badRow("field too long", `the record is longer than ${LONGEST_RECORD} characters`, raw, line);
  else sink.badRow("record not well-formed", "this is not a whole JSON record", raw, line);
}

/** A record's cells by column; null for what is no record. */
function cellsOf(text: string): Cells | null {
  let record: unknown;
  try {
    record = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof record !== "object" || record === null || Array.isArray(record)) return null;
  const cells = new Map<string, string>();
  addCells(record, "", 1, cells);
  return cells;
}

function addCells(record: object, path: string, depth: number, cells: Map<string, string>): void {
  for (const [key, value] of Object.entries(record) as [string, unknown][]) {
    const column = `${path}${key}`.trim();
    if (column === "" || cells.has(column)) continue;
    if (typeof value === "string") cells.set(column, value);
    else if (typeof value === "number" || typeof value === "boolean") cells.set(column, String(value));
    else if (value === null) cells.set(column, "");
    else if (typeof value === "object" && !Array.isArray(value) && depth < DEEPEST) addCells(value, `${column}.`, depth + 1, cells);
    // Lists, and records further down, are no readings.
    else cells.set(column, Array.isArray(value) ? "[…]" : "{…}");
  }
}
