import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LONGEST_RAW_CHARACTERS } from "../../src/intake/row-sink.js";
import { makeRowReader } from "../../src/intake/rows.js";

/** What came of some bytes: rows as [line, cells], bad rows as [line, reason]. */
type Seen = readonly [number, readonly string[] | string];

function rowsOf(chunks: readonly (string | Uint8Array)[], longestRowBytes?: number): Seen[] {
  const seen: Seen[] = [];
  const reader = makeRowReader(
    ",",
    { row: (cells, line) => seen.push([line, cells]), badRow: (reason, _detail, _raw, line) => seen.push([line, reason]) },
    longestRowBytes,
  );
  for (const chunk of chunks) reader.push(Buffer.from(chunk));
  reader.end();
  return seen;
}

describe("the row reader", () => {
  it("gives cells and the line each row begins on", () => {
    expect(rowsOf(["a,b\n1,2\n\n3,4"])).toEqual([
      [1, ["a", "b"]],
      [2, ["1", "2"]],
      [4, ["3", "4"]],
    ]);
  });

  it("keeps line numbers right behind a line break in quotes", () => {
    expect(rowsOf(['a,b\r\n"one\r\ntwo",2\r\n3,4\r\n'])).toEqual([
      [1, ["a", "b"]],
      [2, ["one\r\ntwo", "2"]],
      [4, ["3", "4"]],
    ]);
  });

  it("takes CR LF, LF and CR, also mixed", () => {
    expect(rowsOf(["a,b\r\n1,2\n3,4\r5,6"]).map(([line]) => line)).toEqual([1, 2, 3, 4]);
  });

  it("passes over a byte order mark", () => {
    expect(rowsOf(["\ufeffa,b\n"])).toEqual([[1, ["a", "b"]]]);
    expect(rowsOf(["a"])).toEqual([[1, ["a"]]]);
  });

  it("reads a quote inside an unquoted field as text", () => {
    expect(rowsOf(['1,5" pipe\n2,x\n'])).toEqual([
      [1, ["1", '5" pipe']],
      [2, ["2", "x"]],
    ]);
  });

  it("loses only the line of a quote that is never closed", () => {
    expect(rowsOf(['1,"two\n3,4\n5,6\n'])).toEqual([
      [1, "quote not closed"],
      [2, ["3", "4"]],
      [3, ["5", "6"]],
    ]);
  });

  it("sets a field of a million characters aside, in bounded memory, and reads on", () => {
    const chunk = Buffer.alloc(10_000, "x");
    for (const opening of ["1,", '1,"']) {
      const chunks = ["a,b\n", opening, ...Array.from({ length: 100 }, () => chunk), "\n3,4\n5,6\n"];
      const seen = rowsOf(chunks);
      expect(seen).toEqual([
        [1, ["a", "b"]],
        [2, "field too long"],
        [3, ["3", "4"]],
        [4, ["5", "6"]],
      ]);
    }
  });

  it("sets the same row aside when the whole file comes at once", () => {
    expect(rowsOf([`a,b\n1,${"x".repeat(1_000_000)}\n3,4\n`])).toEqual([
      [1, ["a", "b"]],
      [2, "field too long"],
      [3, ["3", "4"]],
    ]);
  });

  it("keeps only the beginning of a row that is too long", () => {
    let kept = "";
    const reader = makeRowReader(",", { row: () => undefined, badRow: (_reason, _detail, raw) => (kept = raw) }, 1000);
    reader.push(Buffer.from("ä".repeat(2000)));
    reader.end();
    expect(kept).toBe("ä".repeat(LONGEST_RAW_CHARACTERS));
  });

  it("sets a row aside that is not UTF-8, and only that row", () => {
    expect(rowsOf([Buffer.concat([Buffer.from("1,2\n3,"), Buffer.from([0xe4]), Buffer.from("\n5,6\n")])])).toEqual([
      [1, ["1", "2"]],
      [2, "text not decodable"],
      [3, ["5", "6"]],
    ]);
  });

  it("gives the same whatever the chunks", () => {
    const parts = fc.constantFrom("1", ",", '"', '""', "\n", "\r\n", "\r", "ä", "a long word", "\n2,3\n", '"x\ny"');
    fc.assert(
      fc.property(fc.array(parts, { maxLength: 40 }), fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 5 }), fc.integer({ min: 4, max: 30 }), (words, sizes, longest) => {
        const bytes = Buffer.from(words.join(""));
        const chunks: Buffer[] = [];
        for (let at = 0, i = 0; at < bytes.length; at += sizes[i++ % sizes.length]!) chunks.push(bytes.subarray(at, at + sizes[i % sizes.length]!));
        expect(rowsOf(chunks, longest)).toEqual(rowsOf([bytes], longest));
      }),
      { numRuns: 1000 },
    );
  });

  it("never throws, and counts every line, for any bytes", () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 60 }), { maxLength: 4 }), (chunks) => {
        for (const [line] of rowsOf(chunks, 20)) expect(line).toBeGreaterThan(0);
      }),
      { numRuns: 500 },
    );
  });

  it("lets a valid row survive between lines of garbage without quotes", () => {
    const garbage = fc.uint8Array({ maxLength: 40 }).map((bytes) => Buffer.from(bytes.filter((byte) => byte !== 0x22)));
    fc.assert(
      fc.property(garbage, garbage, (before, after) => {
        const seen = rowsOf([Buffer.concat([before, Buffer.from("\nvalid,row\n"), after])], 30);
        expect(seen.map(([, what]) => what)).toContainEqual(["valid", "row"]);
      }),
      { numRuns: 500 },
    );
  });
});
