import { isAscii, isUtf8 } from "node:buffer";

const QUOTE = 0x22;
const CR = 0x0d;
const LF = 0x0a;
/** The most bytes of UTF-8 text that decode to one unit of a string. */
const BYTES_A_UNIT = 3;

/**
 * Gives the cells of each line of a block of whole lines, if only delimiters and line breaks have a meaning in it: no quote,
 * nothing undecodable, no line that may be longer than `longestRowBytes`. Otherwise returns false and gives nothing:
 * csv-parse has to read the block. The rows are the same as csv-parse's; a blank line is one empty cell. Most exports
 * are like this throughout, and this is several times as fast. `ended` says whether a line break ends the row.
 */
export function givePlainRows(block: Buffer, delimiter: string, longestRowBytes: number, give: (cells: string[], ended: boolean) => void): boolean {
  if (delimiter.length !== 1 || block.includes(QUOTE)) return false;
  const ascii = isAscii(block);
  if (!ascii && !isUtf8(block)) return false;
  const text = block.toString(ascii ? "latin1" : "utf8");
  if (hasLineOver(text, ascii ? longestRowBytes : longestRowBytes / BYTES_A_UNIT)) return false;
  const comma = delimiter.charCodeAt(0);
  const { length } = text;
  let cells: string[] = [];
  let start = 0;
  for (let i = 0; i < length; i++) {
    const code = text.charCodeAt(i);
    if (code === comma) {
      cells.push(text.slice(start, i));
      start = i + 1;
    } else if (code === LF || code === CR) {
      cells.push(text.slice(start, i));
      if (code === CR && text.charCodeAt(i + 1) === LF) i++;
      start = i + 1;
      give(cells, true);
      cells = [];
    }
  }
  if (start < length || cells.length > 0) {
    cells.push(text.slice(start));
    give(cells, false);
  }
  return true;
}

/** Looks for LF alone: lines that end in CR make longer ones, and csv-parse may then have to look. */
function hasLineOver(text: string, longest: number): boolean {
  let start = 0;
  for (let end = text.indexOf("\n"); end >= 0; end = text.indexOf("\n", start)) {
    if (end - start > longest) return true;
    start = end + 1;
  }
  return text.length - start > longest;
}
