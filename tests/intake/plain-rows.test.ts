import fc from "fast-check";
import { CsvError, parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { givePlainRows } from "../../src/intake/plain-rows.js";

const LONGEST = 40;

/** What the fast path gives, or null where it leaves the block to csv-parse. */
function plain(block: Buffer, delimiter = ","): { cells: string[]; ended: boolean }[] | null {
  const rows: { cells: string[]; ended: boolean }[] = [];
  return givePlainRows(block, delimiter, LONGEST, (cells, ended) => rows.push({ cells, ended })) ? rows : null;
}

/** csv-parse over the same block, with the options of the row reader. */
function parsed(block: Buffer, delimiter: string): string[][] | null {
  try {
    return parse(block, { delimiter, relax_quotes: true, relax_column_count: true, record_delimiter: ["\r\n", "\n", "\r"] });
  } catch (error) {
    if (error instanceof CsvError) return null;
    throw error;
  }
}

const words = fc.array(fc.constantFrom(",", ";", "\t", "\n", "\r", "\r\n", " ", "a", "3.7", "ä", "€", "\u0000", "\ufeff", "=1", "'", "2026-10-01T10:00:00Z"), { maxLength: 40 }).map((parts) => Buffer.from(parts.join("")));
const blocks = fc.oneof(words, fc.uint8Array({ maxLength: 80 }).map((bytes) => Buffer.from(bytes)), fc.string({ unit: "binary", maxLength: 60 }).map((text) => Buffer.from(text)));

describe("rows split without csv-parse", () => {
  it("are csv-parse's rows for every input that the fast path takes", () => {
    fc.assert(
      fc.property(blocks, fc.constantFrom(",", ";", "\t"), (block, delimiter) => {
        // A byte order mark is taken off before rows are split.
        fc.pre(!block.subarray(0, 3).equals(Buffer.from("\ufeff")));
        const rows = plain(block, delimiter);
        if (rows === null) return;
        expect(rows.map(({ cells }) => cells)).toEqual(parsed(block, delimiter));
        expect(rows.slice(0, -1).every(({ ended }) => ended)).toBe(true);
        if (rows.length > 0) expect(rows.at(-1)!.ended).toBe(/[\r\n]$/.test(block.toString("latin1")));
      }),
      { numRuns: 3000 },
    );
  });

  it("are taken wherever there is no quote, no long line, and nothing undecodable", () => {
    fc.assert(
      fc.property(words, (block) => {
        const isLong = block.toString("utf8").split("\n").some((line) => line.length > LONGEST / 3);
        if (!isLong) expect(plain(block)).not.toBeNull();
      }),
    );
    for (const left of ['a,"b"\n', "a".repeat(LONGEST + 1)]) expect(plain(Buffer.from(left))).toBeNull();
    expect(plain(Buffer.from([0x61, 0xff, 0x0a]))).toBeNull();
    expect(plain(Buffer.from("a,b\n"), "::")).toBeNull();
  });
});
