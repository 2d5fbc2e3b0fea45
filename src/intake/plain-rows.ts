import { isAscii, isUtf8 } from "node:buffer";

const QUOTE = 0x22;
const CR = 0x0d;
/** The most bytes that a character of a UTF-8 text takes for each unit of the string it decodes to. */
const BYTES_A_UNIT = 3;

/**
 * The cells of every line of a block of whole lines, where nothing but delimiters and line breaks means anything: no
 * quote, nothing undecodable, no line that may be longer than `longestRowBytes`. Null for any other block: csv-parse has
 * to read that. Where this gives rows they are csv-parse's, line for line; a blank line is one empty cell. Most exports
 * are like this throughout, and a split is several times as fast.
 */
export function plainRows(block: Buffer, delimiter: string, longestRowBytes: number): string[][] | null {
  if (block.includes(QUOTE)) return null;
  const ascii = isAscii(block);
  if (!ascii && !isUtf8(block)) return null;
  const text = block.toString(ascii ? "latin1" : "utf8");
  const longest = ascii ? longestRowBytes : longestRowBytes / BYTES_A_UNIT;
  const lines = text.split(block.includes(CR) ? /\r\n|\n|\r/ : "\n");
  // What follows the last line break is a line only if there is something.
  if (lines.at(-1) === "") lines.pop();
  const rows = new Array<string[]>(lines.length);
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!;
    if (line.length > longest) return null;
    rows[i] = line.split(delimiter);
  }
  return rows;
}
