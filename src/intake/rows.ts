import { isUtf8 } from "node:buffer";
import { CsvError, parse, type Options } from "csv-parse/sync";
import { countLines, firstLineEnd, lastLineEnd, longestLine } from "./lines.js";
import { givePlainRows } from "./plain-rows.js";
import type { SetAsideReason } from "./readings.js";

/** A row longer than this is no row of sensor readings: it is set aside, so that memory stays bounded. Our own choice. */
export const LONGEST_ROW_BYTES = 65_536;
/** As much of a set-aside row as is kept. */
export const LONGEST_RAW_CHARACTERS = 500;

/** Where rows go, in file order. `line` is the 1-based line on which the row begins. */
export interface RowSink {
  /**
   * The cells as text, quotes resolved. Cells may share memory with their neighbours: copy what is to be kept.
   * `ended` is false only for the last row of a file, where no line break follows it.
   */
  readonly onRow: (cells: readonly string[], line: number, ended: boolean) => void;
  /** A row that could not be taken apart; `raw` is its beginning. */
  readonly onBadRow: (reason: SetAsideReason, detail: string, raw: string, line: number) => void;
}

/** Takes a file's bytes in chunks of any size. What comes out does not depend on where the chunks end. */
export interface RowReader {
  readonly push: (chunk: Uint8Array) => void;
  readonly end: () => void;
}

/** Rows end at CR LF, LF or CR, also mixed; quotes are as in RFC 4180, and a quote inside an unquoted field is text. */
const csvOptions = { relax_quotes: true, relax_column_count: true, record_delimiter: ["\r\n", "\n", "\r"] } satisfies Options;

/**
 * UTF-8 bytes to rows. The bytes are cut into blocks of whole lines. A block without any quote is split as it is, by
 * {@link givePlainRows}; every other block goes through csv-parse at once, and almost always one line is one row and that is
 * all. Otherwise the block is read again with csv-parse's byte positions, which
 * tell the lines of rows with line breaks inside quotes, and where a quote is not closed.
 * A quote that nothing closes costs only its own line: reading goes on with the next. Blank lines are no rows.
 * A byte order mark is passed over. Rows that are not UTF-8 are set aside. Never throws for any bytes.
 */
export function makeRowReader(delimiter: string, sink: RowSink, longestRowBytes = LONGEST_ROW_BYTES): RowReader {
  /** What has not become rows yet: the part of the last line that has come so far, and an open quote before it. */
  let rest: Buffer = Buffer.alloc(0);
  /** The line on which `rest` begins. */
  let line = 1;
  let begun = false;
  let scratch: Buffer = Buffer.alloc(0);
  /** Inside a row that is too long, and has been set aside: passing over the rest of it. */
  let passing = false;

  return { push, end };

  function push(chunk: Uint8Array): void {
    const fresh = Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength);
    take(fresh);
    // What is left is copied: the chunk's memory is not ours to keep.
    if (rest.buffer === fresh.buffer || rest.buffer === scratch.buffer) rest = Buffer.from(rest);
  }

  function take(fresh: Buffer): void {
    rest = rest.length === 0 ? fresh : joined(rest, fresh);
    if (!begun) {
      if (rest.length < BYTE_ORDER_MARK.length) return;
      begin();
    }
    if (passing && !passLine(false)) return;
    rest = rest.subarray(readBlock(rest.subarray(0, lastLineEnd(rest)), false));
    while (contentLength(rest) > longestRowBytes) {
      const lineEnd = firstLineEnd(rest, false);
      if (lineEnd === 0) {
        sink.onBadRow("field too long", tooLong(), beginningOf(rest), line);
        passing = true;
        passLine(false);
        return;
      }
      // Whole lines are left over only behind an open quote.
      giveUpFirstLine(rest.subarray(0, lineEnd));
      rest = rest.subarray(lineEnd);
      rest = rest.subarray(readBlock(rest.subarray(0, lastLineEnd(rest)), false));
    }
  }

  /** In one buffer that is used again and again, as long as it is large enough. */
  function joined(left: Buffer, right: Buffer): Buffer {
    const length = left.length + right.length;
    if (length > scratch.length) scratch = Buffer.allocUnsafeSlow(length * 2);
    left.copy(scratch);
    right.copy(scratch, left.length);
    return scratch.subarray(0, length);
  }

  function end(): void {
    if (!begun) begin();
    if (passing && !passLine(true)) return;
    readBlock(rest, true);
    rest = Buffer.alloc(0);
  }

  function begin(): void {
    begun = true;
    if (rest.subarray(0, BYTE_ORDER_MARK.length).equals(BYTE_ORDER_MARK)) rest = rest.subarray(BYTE_ORDER_MARK.length);
  }

  /** Drops the rest of a line that was too long; false while its end has not come. */
  function passLine(final: boolean): boolean {
    const lineEnd = firstLineEnd(rest, final);
    // A last CR is kept: it may be half a CR LF.
    rest = lineEnd > 0 ? rest.subarray(lineEnd) : rest.subarray(rest.at(-1) === CR ? rest.length - 1 : rest.length);
    if (lineEnd === 0) return false;
    passing = false;
    line++;
    return true;
  }

  /** Reads whole lines; returns how many bytes became rows. Less than all only if `final` is false and a quote is open. */
  function readBlock(block: Buffer, final: boolean): number {
    if (block.length === 0) return 0;
    if (givePlainRows(block, delimiter, longestRowBytes, givePlain)) return block.length;
    if (longestLine(block) <= longestRowBytes && isUtf8(block)) {
      const rows = parseOrNull(block);
      // Every row takes a line at least: as many rows as lines means one line a row.
      if (rows !== null && rows.length === countLines(block)) {
        giveRows(rows, block);
        return block.length;
      }
    }
    return readBlockByPositions(block, final);
  }

  function parseOrNull(block: Buffer): string[][] | null {
    try {
      return parse(block, { ...csvOptions, delimiter });
    } catch (error) {
      if (error instanceof CsvError) return null;
      throw error;
    }
  }

  function readBlockByPositions(block: Buffer, final: boolean): number {
    let at = 0;
    while (at < block.length) {
      at += readRowsByPositions(block.subarray(at));
      const left = block.subarray(at);
      if (left.length === 0 || (!final && contentLength(left) <= longestRowBytes)) break;
      // The row that begins here is too long, or its quote is never closed.
      const lineEnd = firstLineEnd(left, true) || left.length;
      giveUpFirstLine(left.subarray(0, lineEnd));
      at += lineEnd;
    }
    return at;
  }

  /** Gives the rows from the beginning of `bytes` up to the first that is too long or never ends; returns their length. */
  function readRowsByPositions(bytes: Buffer): number {
    const options = { ...csvOptions, delimiter, info: true, skip_records_with_error: true } satisfies Options;
    // The published types know only string[][]; with `info` csv-parse gives each row's cells and the byte it ends at.
    const rows = parse(bytes, options) as unknown as readonly { readonly record: string[]; readonly info: { readonly bytes: number } }[];
    let used = 0;
    for (const { record, info } of rows) {
      const row = bytes.subarray(used, info.bytes);
      if (contentLength(row) > longestRowBytes) break;
      if (isUtf8(row)) giveRow(record, line, endsLine(row));
      else sink.onBadRow("text not decodable", "the row is not UTF-8 text", beginningOf(row), line);
      line += countLines(row);
      used = info.bytes;
    }
    return used;
  }

  /** Rows of one line each. */
  function giveRows(rows: readonly (readonly string[])[], block: Buffer): void {
    const unended = endsLine(block) ? -1 : rows.length - 1;
    for (let i = 0; i < rows.length; i++) giveRow(rows[i]!, line++, i !== unended);
  }

  function givePlain(cells: readonly string[], ended: boolean): void {
    giveRow(cells, line++, ended);
  }

  function giveRow(cells: readonly string[], rowLine: number, ended: boolean): void {
    if (cells.length > 1 || cells[0] !== "") sink.onRow(cells, rowLine, ended);
  }

  function giveUpFirstLine(bytes: Buffer): void {
    const isLong = contentLength(bytes) > longestRowBytes;
    sink.onBadRow(isLong ? "field too long" : "quote not closed", isLong ? tooLong() : "a quote opens in this row and is not closed in good time; reading goes on with the next line", beginningOf(bytes), line);
    line++;
  }

  function tooLong(): string {
    return `the row is longer than ${longestRowBytes} bytes`;
  }
}

const CR = 13;
const LF = 10;
const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);

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
