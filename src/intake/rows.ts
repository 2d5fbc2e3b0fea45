import { isUtf8 } from "node:buffer";
import { CsvError, parse, type Options } from "csv-parse/sync";
import { countLines, firstLineEnd, lastLineEnd, longestLine } from "./lines.js";
import { givePlainRows } from "./plain-rows.js";
import { LONGEST_RAW_CHARACTERS, type RowSink } from "./row-sink.js";

/** A longer row is no row of sensor readings: it is set aside, so that memory stays bounded. Our own choice. */
const LONGEST_ROW_BYTES = 65_536;
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
}

/**
 * UTF-8 bytes to rows. The bytes are cut into blocks of whole lines. {@link givePlainRows} splits a block without quotes;
 * csv-parse reads every other block, and almost always one line is one row and that is all. Otherwise csv-parse reads the
 * block again and gives byte positions, which show the lines of rows with line breaks inside quotes, and quotes that
 * are not closed. An unclosed quote costs only its own line: reading goes on with the next. Blank lines are no rows.
 * A byte order mark is skipped. Rows that are not UTF-8 are set aside. Never throws, whatever the bytes.
 */
export function makeRowReader(delimiter: string, sink: Pick<RowSink, "row" | "badRow">, longestRowBytes = LONGEST_ROW_BYTES): RowReader {
  const empty = Buffer.alloc(0);
  const state: State = { delimiter, sink, longestRowBytes, rest: empty, line: 1, begun: false, scratch: empty, skipping: false };
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
      readBlock(state, state.rest, true);
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
  readWholeLines(state);
  while (contentLength(state.rest) > state.longestRowBytes) {
    const lineEnd = firstLineEnd(state.rest, false);
    if (lineEnd === 0) {
      state.sink.badRow("field too long", tooLong(state), beginningOf(state.rest), state.line);
      state.skipping = true;
      skipLine(state, false);
      return;
    }
    // Whole lines are left over only behind an open quote.
    giveUpLine(state, state.rest.subarray(0, lineEnd));
    state.rest = state.rest.subarray(lineEnd);
    readWholeLines(state);
  }
}

function readWholeLines(state: State): void {
  state.rest = state.rest.subarray(readBlock(state, state.rest.subarray(0, lastLineEnd(state.rest)), false));
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

/** Reads whole lines; returns how many bytes became rows. Less than all only if `final` is false and a quote is open. */
function readBlock(state: State, block: Buffer, final: boolean): number {
  const { delimiter, longestRowBytes } = state;
  if (block.length === 0) return 0;
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
  return readBlockByPositions(state, block, final);
}

function parsedOrNull(block: Buffer, delimiter: string): string[][] | null {
  try {
    return parse(block, { ...csvOptions, delimiter });
  } catch (error) {
    if (error instanceof CsvError) return null;
    throw error;
  }
}

function readBlockByPositions(state: State, block: Buffer, final: boolean): number {
  let at = 0;
  while (at < block.length) {
    at += readRowsByPositions(state, block.subarray(at));
    const left = block.subarray(at);
    if (left.length === 0 || (!final && contentLength(left) <= state.longestRowBytes)) break;
    // The row that begins here is too long, or its quote is never closed.
    const lineEnd = firstLineEnd(left, true) || left.length;
    giveUpLine(state, left.subarray(0, lineEnd));
    at += lineEnd;
  }
  return at;
}

/** Gives the rows from the beginning of `bytes` up to the first that is too long or never ends; returns their length. */
function readRowsByPositions(state: State, bytes: Buffer): number {
  const options = { ...csvOptions, delimiter: state.delimiter, info: true, skip_records_with_error: true } satisfies Options;
  // The published types know only string[][]; with `info` csv-parse gives each row's cells and the byte it ends at.
  const rows = parse(bytes, options) as unknown as readonly { readonly record: string[]; readonly info: { readonly bytes: number } }[];
  let used = 0;
  for (const { record, info } of rows) {
    const row = bytes.subarray(used, info.bytes);
    if (contentLength(row) > state.longestRowBytes) break;
    if (isUtf8(row)) giveRow(state, record, state.line, endsLine(row));
    else state.sink.badRow("text not decodable", "the row is not UTF-8 text", beginningOf(row), state.line);
    state.line += countLines(row);
    used = info.bytes;
  }
  return used;
}

function giveRow({ sink }: State, cells: readonly string[], line: number, ended: boolean): void {
  if (cells.length > 1 || cells[0] !== "") sink.row(cells, line, ended);
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
