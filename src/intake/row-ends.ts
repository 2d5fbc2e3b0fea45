const QUOTE = 34;
const CR = 13;
const LF = 10;

/** Where a row ends, its line break included, and how long that break is; 0 at the end of the bytes. */
export interface RowEnd {
  readonly end: number;
  readonly breakBytes: number;
}

/**
 * Says where the row that begins at `start` ends; null if it is longer than `longest` bytes (its line break not counted), or a quote in it is
 * never closed. Rows are as csv-parse reads them with `relax_quotes`: a quote that opens a field is closed by the next run of quotes
 * of odd length, for pairs are quotes of the text; behind it the field goes on, as text, to the next delimiter or line break. A quote elsewhere is text.
 *
 * Asked for rows that begin further and further on, it takes time in proportion to the bytes, whatever they are: the run that closes a quote is looked for
 * once, and fields that were found to lead nowhere are not followed again from another row.
 */
export function makeRowEnds(bytes: Uint8Array, delimiter: Uint8Array): (start: number, longest: number) => RowEnd | null {
  const [firstOfDelimiter = 0] = delimiter;
  /** The first run of odd length at or behind `from`. */
  let oddRun = { from: 0, start: -1, end: -1 };
  /** Of fields on the way of a row that was given up: a field further on that way. */
  const further = new Map<number, number>();
  /** Where fields end at which a row was given up. */
  const lastEnds = new Map<number, number>();

  const runEnd = (from: number): number => {
    let at = from;
    while (bytes[at] === QUOTE) at++;
    return at;
  };
  /** Where the quote ends that closes a field whose text begins at `from`; Infinity where there is none. */
  function closing(from: number): number {
    // What is left of the run that opened the field has a length of its own.
    const at = runEnd(from);
    if ((at - from) % 2 === 1) return at;
    if (oddRun.from > at || oddRun.start < at) oddRun = { from: at, ...nextOddRun(at) };
    return oddRun.end;
  }
  function nextOddRun(from: number): { readonly start: number; readonly end: number } {
    for (let start = bytes.indexOf(QUOTE, from); start >= 0; ) {
      const end = runEnd(start);
      if ((end - start) % 2 === 1) return { start, end };
      start = bytes.indexOf(QUOTE, end);
    }
    return { start: Infinity, end: Infinity };
  }

  const isDelimiter = (at: number): boolean => bytes[at] === firstOfDelimiter && delimiter.every((byte, i) => bytes[at + i] === byte);
  function fieldEnd(from: number): number {
    const known = lastEnds.get(from);
    if (known !== undefined) return known;
    let at = bytes[from] === QUOTE ? closing(from + 1) : from;
    while (at < bytes.length && bytes[at] !== LF && bytes[at] !== CR && !isDelimiter(at)) at++;
    return at;
  }

  return (start, longest) => {
    const fields: number[] = [];
    let at = start;
    for (;;) {
      fields.push(at);
      for (let next = further.get(at); next !== undefined; next = further.get(at)) {
        at = next;
        fields.push(at);
      }
      const end = fieldEnd(at);
      if (end - start > longest || end === Infinity) {
        lastEnds.set(at, end);
        for (const field of fields) if (field !== at) further.set(field, at);
        return null;
      }
      if (end === bytes.length) return { end, breakBytes: 0 };
      if (bytes[end] === LF || bytes[end] === CR) {
        const breakBytes = bytes[end] === CR && bytes[end + 1] === LF ? 2 : 1;
        return { end: end + breakBytes, breakBytes };
      }
      at = end + delimiter.length;
    }
  };
}
