/** Line breaks in bytes: CR LF, LF or CR, also mixed in one file. */
const CR = 13;
const LF = 10;

/** How many lines the bytes hold; what follows the last break counts as a line. */
export function countLines(bytes: Uint8Array): number {
  let lines = 0;
  for (let i = 0; i < bytes.length; i++) {
    if (bytes[i] === LF || (bytes[i] === CR && bytes[i + 1] !== LF)) lines++;
  }
  const last = bytes.at(-1);
  return last === undefined || last === LF || last === CR ? lines : lines + 1;
}

/** The length of the longest line, its break not counted. */
export function longestLine(bytes: Uint8Array): number {
  let longest = 0;
  let start = 0;
  for (let i = 0; i < bytes.length; i++) {
    if (bytes[i] !== LF && bytes[i] !== CR) continue;
    if (i - start > longest) longest = i - start;
    start = i + 1;
  }
  return Math.max(longest, bytes.length - start);
}

/** Where the first line ends, break included; 0 when it does not end here. A last CR ends it only if nothing can follow. */
export function firstLineEnd(bytes: Uint8Array, final: boolean): number {
  const lf = bytes.indexOf(LF);
  const cr = bytes.indexOf(CR);
  if (cr < 0 || (lf >= 0 && lf < cr)) return lf + 1;
  if (cr + 1 === bytes.length) return final ? cr + 1 : 0;
  return bytes[cr + 1] === LF ? cr + 2 : cr + 1;
}

/** Where the last whole line ends, break included; 0 when none does. A last CR is left: it may be half a CR LF. */
export function lastLineEnd(bytes: Uint8Array): number {
  const lf = bytes.lastIndexOf(LF);
  // A CR after the last LF and before the last byte stands alone.
  const cr = bytes.length < 2 ? -1 : bytes.lastIndexOf(CR, bytes.length - 2);
  return Math.max(lf, cr) + 1;
}
