import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { csvText } from "../../src/result/csv-text.js";

describe("csvText", () => {
  it("makes cells inert that a spreadsheet would run, and leaves numbers alone", () => {
    const text = csvText(["name", "lag_s"], [["=cmd|' /C calc'!A0", -12.5], ["+44", 3], ["@sum", null], ["-door", 0], ["plain", 1]]);
    expect(text).toBe("name,lag_s\r\n'=cmd|' /C calc'!A0,-12.5\r\n'+44,3\r\n'@sum,\r\n'-door,0\r\nplain,1\r\n");
  });

  it("makes a hostile header inert too", () => {
    expect(csvText(["=1+1"], [])).toBe("'=1+1\r\n");
  });

  it("is read back by a CSV reader as it was, whatever the text", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string()), { minLength: 1 }), (rows) => {
        const back: string[][] = parse(csvText(["a", "b"], rows), { record_delimiter: "\r\n", relax_column_count: false });
        const expected = rows.map((row) => row.map((cell) => (/^[=+\-@\t\r\n]/.test(cell) ? `'${cell}` : cell)));
        expect(back.slice(1)).toEqual(expected);
      }),
    );
  });
});
