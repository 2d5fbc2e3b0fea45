import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { csvText, type CsvLayout } from "../../src/ground/csv-text.js";
import { makeRowReader } from "../../src/intake/rows.js";

/** Text of signs that mean something to readers of CSV and to spreadsheets, among others. */
const tricky = fc.oneof(
  fc.string({ unit: "binary", maxLength: 20 }),
  fc.array(fc.constantFrom("=", "+", "-", "@", "\uff1d", ";", ",", '"', "'", " ", "\t", "\r", "\n", "\ufeff", "1", "cmd()"), { maxLength: 8 }).map((signs) => signs.join("")),
);
const tables = fc.integer({ min: 2, max: 4 }).chain((width) => fc.array(fc.array(tricky, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 6 }));

/** The cells as the reader of exports and diaries gives them. */
function readBack(text: string, delimiter = ","): (readonly string[])[] {
  const rows: (readonly string[])[] = [];
  const reader = makeRowReader(delimiter, { row: (cells) => void rows.push(cells), badRow: (reason) => void rows.push([reason]) });
  reader.push(Buffer.from(text));
  reader.end();
  return rows;
}

const [header = [], ...noRows]: string[][] = [["name", "lag_s"]];

describe("CSV that we write", () => {
  it("makes cells inert that a spreadsheet would run, and leaves numbers and dashes alone", () => {
    const text = csvText(["name", "lag_s"], [["=cmd|' /C calc'!A0", -12.5], ["+44", 3], ["@sum", null], ["-door", "-12.5"], ["-5", "--"], ["plain", 1]]);
    expect(text).toBe("name,lag_s\r\n'=cmd|' /C calc'!A0,-12.5\r\n'+44,3\r\n'@sum,\r\n'-door,-12.5\r\n'-5,--\r\nplain,1\r\n");
  });

  it("makes a hostile header inert too", () => {
    expect(csvText(["=1+1"], noRows)).toBe("'=1+1\r\n");
  });

  it("guards what a spreadsheet takes for the beginning of a cell that splits at semicolons or tabs, spaces and quotes before it or not", () => {
    expect(csvText(header, [["x;=cmd()", "a; @b"], ['x;"=cmd()', "a\t+b"]])).toBe(`name,lag_s\r\nx;'=cmd(),a;' @b\r\n"x;'""=cmd()",a\t'+b\r\n`);
  });

  it("quotes a line break of either kind, and what would be taken for a byte order mark", () => {
    expect(csvText(["\ufeffname", "b"], [["one\ntwo", "one\rtwo"]])).toBe('"\ufeffname",b\r\n"one\ntwo","one\rtwo"\r\n');
  });

  it.each<CsvLayout>([{}, { lineEnd: "\n" }, { lineEnd: "\r" }, { delimiter: ";" }, { delimiter: "\t", lineEnd: "\n" }, { delimiter: "'" }])("comes back the same through our own reader, whatever the text: %j", (layout) => {
    fc.assert(
      fc.property(tables, ([head = [], ...rows]) => {
        expect(readBack(csvText(head, rows, layout), layout.delimiter)).toEqual([head, ...rows]);
      }),
      { numRuns: 2_000 },
    );
  });

  it("begins no cell with a sign that makes a formula, whether a spreadsheet splits at commas, semicolons or tabs", () => {
    fc.assert(
      fc.property(tables, ([head = [], ...rows]) => {
        const text = csvText(head, rows);
        for (const cell of [",", ";", "\t"].flatMap((delimiter) => split(text, delimiter))) {
          if (!/^(?:-\d+|-+)$/.test(cell)) expect(cell.trimStart()).not.toMatch(/^[=+\-@\uff1d]/);
        }
        // Nor where quotes are not minded at all, as far as semicolons, tabs and line breaks go.
        for (const cell of text.split(/[;\t\r\n]/)) expect(cell.replace(/^"*/, "")).not.toMatch(/^[=+\-@\uff1d]/);
      }),
      { numRuns: 2_000 },
    );
  });
});

/** Cells as a spreadsheet has them that minds quotes only where a cell begins. */
function split(text: string, delimiter: string): string[] {
  const rows: string[][] = parse(text, { delimiter, relax_quotes: true, relax_column_count: true, record_delimiter: ["\r\n", "\n", "\r"], skip_records_with_error: true });
  return rows.flat();
}
