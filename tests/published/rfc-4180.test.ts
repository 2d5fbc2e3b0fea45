/**
 * Source: RFC 4180, Common Format and MIME Type for CSV Files, section 2.
 * Mark: (M), the points are from memory; the text of the RFC was not seen.
 */
import { describe, expect, it } from "vitest";
import { makeRowReader } from "../../src/intake/rows.js";

function rowsOf(text: string): string[][] {
  const rows: string[][] = [];
  const reader = makeRowReader(",", {
    row: (cells) => rows.push([...cells]),
    badRow: (reason) => expect.fail(`set aside: ${reason}`),
  });
  reader.push(Buffer.from(text));
  reader.end();
  return rows;
}

const twoRows = [
  ["aaa", "bbb", "ccc"],
  ["zzz", "yyy", "xxx"],
];

describe("RFC 4180, section 2 (M)", () => {
  it("records end in CR LF", () => {
    expect(rowsOf("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).toEqual(twoRows);
  });

  it("the last record may lack its line break", () => {
    expect(rowsOf("aaa,bbb,ccc\r\nzzz,yyy,xxx")).toEqual(twoRows);
  });

  it("spaces are part of a field", () => {
    expect(rowsOf("aaa, bbb ,ccc\r\n")).toEqual([["aaa", " bbb ", "ccc"]]);
  });

  it("fields may be quoted or not", () => {
    expect(rowsOf('"aaa","bbb","ccc"\r\nzzz,yyy,xxx')).toEqual(twoRows);
  });

  it("fields with line breaks, quotes and commas are quoted", () => {
    expect(rowsOf('"aaa","b\r\nbb","c,cc"\r\nzzz,yyy,xxx')).toEqual([
      ["aaa", "b\r\nbb", "c,cc"],
      ["zzz", "yyy", "xxx"],
    ]);
  });

  it("a quote inside quotes is doubled", () => {
    expect(rowsOf('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]);
  });
});
