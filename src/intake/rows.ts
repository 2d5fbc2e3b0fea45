import { isUtf8 } from "node:buffer";
import { CsvError, parse, type Options } from "csv-parse/sync";
import { unguarded } from "../ground/formula-guard.js";
import { countLines, firstLineEnd, lastLineEnd, longestLine } from "./lines.js";
import { makeRowEnds } from "./row-ends.js";
import { givePlainRows } from "./plain-rows.js";
import { LONGEST_RAW_CHARACTERS, type RowSink } from "./row-sink.js";

/** A longer row is no row of sensor readings: it is set aside, so that memory stays bounded. Our own choice. */
const LONGEST_ROW_BYTES = 65_536;
const APOSTROPHE = 0x27;
const CR = 13;
const LF = 10;
const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);

/** Rows end at CR LF, LF or CR, also mixed; quotes are as in RFC 4180, and a quote inside an unquoted field is text. */
const csvOptions = { relax_quotes: true, relax_column_count: true, record_delimiter: ["\r\n", "\n", "\r"] } satisfies Options;

/** Takes a file's bytes in chunks of any size. The rows do not depend on where the chunks end. */
export interface RowReader {
  readonly push: (chunk: Uint8Array) => void;
  readonly end: () => void;
}

/** How far a file has been read. */
interface State {
  readonly delimiter: string;
  readonly sink: Pick<RowSink, "row" | "badRow">;
  readonly longestRowBytes: number;
  /** Bytes that are not rows yet: the beginning of the last line, and an open quote before it. */
  rest: Buffer;
  /** The line on which `rest` begins. */
  line: number;
  /** The byte order mark, if there is one, is behind us. */
  begun: boolean;
  /** Memory to join the rest and the next chunk in. */
  scratch: Buffer;
  /** Inside a row that is too long and has been set aside: skip the rest of it. */
  skipping: boolean;
  /** There are apostrophes in the block at hand, and some may keep a spreadsheet from running a cell. */
  guards: boolean;
}

/**
 * UTF-8 bytes to rows. The bytes are cut into blocks of whole lines. {@link givePlainRows} splits a block without quotes;
 * csv-parse reads every other block, and almost always one line is one row and that is all. Otherwise {@link makeRowEnds} finds
 * the rows, those with line breaks inside quotes and the quotes that are not closed, and csv-parse reads them. The time grows with the bytes
 * and no faster, whatever they are. An unclosed quote costs only its own line: reading goes on with the next. Blank lines are no rows.
 * A byte order mark is skipped. Rows that are not UTF-8 are set aside. An apostrophe that keeps a spreadsheet from running a cell, as we and others
 * write it, is taken off ({@link unguarded}). Never throws, whatever the bytes.
 */
export function makeRowReader(delimiter: string, sink: Pick<RowSink, "row" | "badRow">, longestRowBytes = LONGEST_ROW_BYTES): RowReader {
  const empty = Buffer.alloc(0);
  const state: State = { delimiter, sink, longestRowBytes, rest: empty, line: 1, begun: false, scratch: empty, skipping: false, guards: false };
  return {
    push(chunk) {
      const fresh = Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength);
      takeChunk(state, fresh);
      // The chunk's memory is not ours to keep.
      if (state.rest.buffer === fresh.buffer || state.rest.buffer === state.scratch.buffer) state.rest = Buffer.from(state.rest);
    },
    end() {
      if (!state.begun) begin(state);
      if (state.skipping && !skipLine(state, true)) return;
      readBlock(state, state.rest, Infinity);
      state.rest = empty;
    },
  };
}

function takeChunk(state: State, fresh: Buffer): void {
  state.rest = state.rest.length === 0 ? fresh : joined(state, fresh);
  if (!state.begun) {
    if (state.rest.length < BYTE_ORDER_MARK.length) return;
    begin(state);
  }
  if (state.skipping && !skipLine(state, false)) return;
  const wholeLines = lastLineEnd(state.rest);
  state.rest = state.rest.subarray(readBlock(state, state.rest.subarray(0, wholeLines), contentLength(state.rest)));
  if (contentLength(state.rest) <= state.longestRowBytes) return;
  // Whole lines are left over only behind an open quote, and never this many bytes: this is the beginning of one line.
  state.sink.badRow("field too long", tooLong(state), beginningOf(state.rest), state.line);
  state.skipping = true;
  skipLine(state, false);
}

/** The rest and the next chunk in one buffer, which is used again as long as it is large enough. */
function joined(state: State, fresh: Buffer): Buffer {
  const length = state.rest.length + fresh.length;
  if (length > state.scratch.length) state.scratch = Buffer.allocUnsafeSlow(length * 2);
  state.rest.copy(state.scratch);
  fresh.copy(state.scratch, state.rest.length);
  return state.scratch.subarray(0, length);
}

function begin(state: State): void {
  state.begun = true;
  if (state.rest.subarray(0, BYTE_ORDER_MARK.length).equals(BYTE_ORDER_MARK)) state.rest = state.rest.subarray(BYTE_ORDER_MARK.length);
}

/** Drops the rest of a line that is too long; false while its end has not come. */
function skipLine(state: State, final: boolean): boolean {
  const { rest } = state;
  const lineEnd = firstLineEnd(rest, final);
  // Keep a last CR: it may be half of a CR LF.
  state.rest = lineEnd > 0 ? rest.subarray(lineEnd) : rest.subarray(rest.at(-1) === CR ? rest.length - 1 : rest.length);
  if (lineEnd === 0) return false;
  state.skipping = false;
  state.line++;
  return true;
}

/**
 * Reads whole lines; returns how many bytes became rows. Less than all only if a quote is open, and what is left may become a row with what
 * comes. `there`: how many bytes there are from the beginning of the block on, those behind it included; Infinity: nothing more comes.
 */
function readBlock(state: State, block: Buffer, there: number): number {
  const { delimiter, longestRowBytes } = state;
  if (block.length === 0) return 0;
  state.guards = block.includes(APOSTROPHE);
  if (givePlainRows(block, delimiter, longestRowBytes, (cells, ended) => { giveRow(state, cells, state.line++, ended); })) return block.length;
  if (longestLine(block) <= longestRowBytes && isUtf8(block)) {
    const rows = parsedOrNull(block, delimiter);
    // Every row takes a line at least: as many rows as lines means one line a row.
    if (rows !== null && rows.length === countLines(block)) {
      const unended = endsLine(block) ? -1 : rows.length - 1;
      rows.forEach((cells, i) => { giveRow(state, cells, state.line++, i !== unended); });
      return block.length;
    }
  }
  return readBlockByRowEnds(state, block, there);
}

function parsedOrNull(block: Buffer, delimiter: string): string[][] | null {
  // csv-parse makes an error of every row that is not as long as the first, and drops it: where each was made is of no use, and costs most of the time.
  const { stackTraceLimit } = Error;
  Error.stackTraceLimit = 0;
  try {
    return parse(block, { ...csvOptions, delimiter });
  } catch (error) {
    if (error instanceof CsvError) return null;
    throw error;
  } finally {
    Error.stackTraceLimit = stackTraceLimit;
  }
}

function readBlockByRowEnds(state: State, block: Buffer, there: number): number {
  const endAfter = makeRowEnds(block, Buffer.from(state.delimiter));
  /** Ends of rows that are found and not given yet. */
  let ready: number[] = [];
  let given = 0;
  let at = 0;
  while (at < block.length) {
    const row = endAfter(at, state.longestRowBytes);
    if (row !== null) {
      at = row.end;
      ready.push(at);
      continue;
    }
    giveRows(state, block, given, ready);
    ready = [];
    given = at;
    if (there - at <= state.longestRowBytes) return at;
    // The row that begins here is too long, or its quote is never closed.
    at = lineEndAfter(block, at);
    giveUpLine(state, block.subarray(given, at));
    given = at;
  }
  giveRows(state, block, given, ready);
  return at;
}

/** Gives the rows that end at `ends`, the first of which begins at `start`. */
function giveRows(state: State, block: Buffer, start: number, ends: readonly number[]): void {
  let begin = start;
  let good: number[] = [];
  let goodFrom = start;
  for (const end of ends) {
    const row = block.subarray(begin, end);
    begin = end;
    if (isUtf8(row)) {
      good.push(end);
      continue;
    }
    giveGoodRows(state, block, goodFrom, good);
    [good, goodFrom] = [[], end];
    giveBadRow(state, row, "text not decodable", "the row is not UTF-8 text");
  }
  giveGoodRows(state, block, goodFrom, good);
}

function giveGoodRows(state: State, block: Buffer, start: number, ends: readonly number[]): void {
  const last = ends.at(-1);
  if (last === undefined) return;
  const bytes = block.subarray(start, last);
  const rows = parsedOrNull(bytes, state.delimiter);
  if (rows === null || rows.length !== ends.length) {
    // csv-parse takes a zero byte behind a quote for the end of the text.
    if (ends.length === 1) giveBadRow(state, bytes, "quote not closed", "what stands behind a quote in this row cannot be read");
    else ends.forEach((end, i) => { giveGoodRows(state, block, ends[i - 1] ?? start, [end]); });
    return;
  }
  let begin = start;
  rows.forEach((cells, i) => {
    const row = block.subarray(begin, ends[i]);
    begin = ends[i] ?? begin;
    giveRow(state, cells, state.line, endsLine(row));
    state.line += countLines(row);
  });
}

function giveBadRow(state: State, row: Buffer, reason: "text not decodable" | "quote not closed", detail: string): void {
  state.sink.badRow(reason, detail, beginningOf(row), state.line);
  state.line += countLines(row);
}

/** Where the line ends in which `from` lies, break included. */
function lineEndAfter(bytes: Buffer, from: number): number {
  let at = from;
  while (at < bytes.length && bytes[at] !== LF && bytes[at] !== CR) at++;
  return Math.min(bytes.length, bytes[at] === CR && bytes[at + 1] === LF ? at + 2 : at + 1);
}

function giveRow({ sink, guards }: State, cells: readonly string[], line: number, ended: boolean): void {
  if (cells.length > 1 || cells[0] !== "") sink.row(guards ? cells.map((cell) => unguarded(cell)) : cells, line, ended);
}

function giveUpLine(state: State, bytes: Buffer): void {
  const isLong = contentLength(bytes) > state.longestRowBytes;
  const unclosed = "a quote opens in this row and is not closed in good time; reading goes on with the next line";
  state.sink.badRow(isLong ? "field too long" : "quote not closed", isLong ? tooLong(state) : unclosed, beginningOf(bytes), state.line);
  state.line++;
}

function tooLong({ longestRowBytes }: State): string {
  return `the row is longer than ${longestRowBytes} bytes`;
}

function endsLine(bytes: Buffer): boolean {
  const last = bytes[bytes.length - 1];
  return last === LF || last === CR;
}

/** The length without the line break at the end. */
function contentLength(bytes: Buffer): number {
  let length = bytes.length;
  if (bytes[length - 1] === LF) length--;
  if (bytes[length - 1] === CR) length--;
  return length;
}

function beginningOf(bytes: Buffer): string {
  const text = bytes.subarray(0, contentLength(bytes)).subarray(0, LONGEST_RAW_CHARACTERS * 4).toString("utf8");
  return text.slice(0, LONGEST_RAW_CHARACTERS);
}
