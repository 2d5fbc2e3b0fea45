import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makeRowEnds } from "../../src/intake/row-ends.js";
import { makeRowReader } from "../../src/intake/rows.js";

/** Where the rows of a text end, each asked for at the end of the one before. */
function endsOf(text: string): number[] {
  const bytes = Buffer.from(text);
  const after = makeRowEnds(bytes, Buffer.from(","));
  const ends: number[] = [];
  for (let at = 0; at < bytes.length; ) {
    const row = after(at, Infinity);
    if (row === null) return [...ends, -1];
    at = row.end;
    ends.push(at);
  }
  return ends;
}

const texts = fc.array(fc.constantFrom('"', '"', "\n", "\r\n", "\r", "a", ",", '""', '",', '\n"'), { maxLength: 14 }).map((parts) => parts.join(""));

describe("the ends of rows", () => {
  it("are where csv-parse has them", () => {
    fc.assert(
      fc.property(texts, (text) => {
        const own = endsOf(text);
        const options = { relax_quotes: true, relax_column_count: true, record_delimiter: ["\r\n", "\n", "\r"], info: true };
        let theirs: number[] | null = null;
        try {
          theirs = (parse(text, options) as unknown as { info: { bytes: number } }[]).map(({ info }) => info.bytes);
        } catch {
          // A quote is never closed.
        }
        expect(own.at(-1) === -1 ? null : own).toEqual(theirs);
      }),
      { numRuns: 5000 },
    );
  });

  it("are the same from any row on, whatever was asked before", () => {
    fc.assert(
      fc.property(texts, fc.integer({ min: 1, max: 8 }), (text, longest) => {
        const bytes = Buffer.from(text);
        const after = makeRowEnds(bytes, Buffer.from(","));
        for (let at = 0; at < bytes.length; at++) {
          if (at > 0 && bytes[at - 1] !== 10) continue;
          expect(after(at, longest)).toEqual(makeRowEnds(bytes, Buffer.from(","))(at, longest));
        }
      }),
      { numRuns: 3000 },
    );
  });
});

describe("quotes that are never closed, or close what they should not", () => {
  /** Processor time: other programs may be at work beside. */
  const secondsOf = (text: string): number => {
    const reader = makeRowReader(",", { row: () => undefined, badRow: () => undefined });
    const bytes = Buffer.from(text);
    const begun = process.cpuUsage();
    for (let at = 0; at < bytes.length; at += 131_072) reader.push(bytes.subarray(at, at + 131_072));
    reader.end();
    const { user, system } = process.cpuUsage(begun);
    return (user + system) / 1e6;
  };

  // The first of these took 15 minutes a megabyte, the second 25 seconds; a quarter of a megabyte is four times what a row may be long.
  it.each([['"\na"'], ['"\n\n\n,'], ['x","\n'], ['"""\n'], ['"a\n"b,'], [`${'x","\n'.repeat(12_000)}${"y".repeat(60_000)}\n`], [`"${"a\n".repeat(40_000)}`], ['"\xff\n']])("take no longer for being many: %j", (pattern) => {
    expect(secondsOf(pattern.repeat(Math.ceil(262_144 / pattern.length)))).toBeLessThan(6);
  }, 60_000);
});
