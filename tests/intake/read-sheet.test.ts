import { describe, expect, it } from "vitest";
import { datePartsOf, numberText } from "../../src/intake/sheet-cells.js";
import { intakeOf, longSource } from "./example-site.js";
import { daysOf, spreadsheetOf, zipOf, type SheetCell } from "./invented-holders.js";

const at = (stamp: string): SheetCell => ({ days: daysOf(stamp), as: "both" });
const head = ["stamp", "channel", "reading"];
const from = (files: string, zone = "UTC") => ({ sources: [longSource({ files: [files], zone })] });

describe("a spreadsheet", () => {
  it("is read sheet by sheet: dates in ISO 8601, numbers as they are shown, and every row counted", async () => {
    const book = spreadsheetOf({
      October: [head, [at("2026-10-01T10:00:00"), "d1", 4.1], [at("2026-10-01T10:01:30"), "d1", 0.1 + 0.2], ["not a date", "d1", 4], [at("2026-10-01T10:02:00"), "d1", "offline"]],
      November: [head, [at("2026-11-01T10:00:00"), "r1", 1], [at("2026-11-01T10:05:00"), "r1", { xml: '<c AT t="str"><f>IF(A1,1,0)</f><v>0</v></c>' }]],
    });
    const read = await intakeOf({ "log.xlsx": book }, from("log.xlsx"));
    expect(read.ledger.map(({ file, read: rows, accepted, setAside }) => [file, rows, accepted, setAside])).toEqual([["log.xlsx/November", 2, 2, 0], ["log.xlsx/October", 4, 2, 2]]);
    expect(read.pairs["overhead"]!.map(([stamp, metres]) => [stamp, Math.round(metres / 0.3048 * 1e9) / 1e9])).toEqual([["2026-10-01T10:00:00.000Z", 4.1], ["2026-10-01T10:01:30.000Z", 0.3]]);
    expect(read.pairs["rail"]).toEqual([["2026-11-01T10:00:00.000Z", 1], ["2026-11-01T10:05:00.000Z", 0]]);
    expect(read.setAside.map(({ line, reason, raw }) => `${line} ${reason}: ${raw}`)).toEqual(["4 time stamp not readable: not a date,d1,4", "5 value not a number: 2026-10-01T10:02:00,d1,offline"]);
  });

  it("has its rows numbered as the sheet shows them, past rows that are empty; cells at the end may be missing", async () => {
    const book = spreadsheetOf({ "Log & more": [null, head, [at("2026-10-01T10:00:00"), "d1", 4], null, ["", "", ""], [at("2026-10-01T11:00:00"), "d1", null], [at("2026-10-01T12:00:00"), "d1", 4, "a note"]] });
    const { ledger, setAside } = await intakeOf({ "log.xlsx": book }, from("log.xlsx/Log*"));
    expect(ledger.map(({ file, read, accepted }) => [file, read, accepted])).toEqual([["log.xlsx/Log & more", 3, 1]]);
    expect(setAside.map(({ line, reason }) => `${line} ${reason}`)).toEqual(["6 no value", "7 wrong number of columns"]);
  });

  it("may have a title above the column names; a sheet of one column has none", async () => {
    const titled = spreadsheetOf({ Log: [["My garage, October"], null, head, [at("2026-10-01T10:00:00"), "d1", 4]] });
    expect((await intakeOf({ "log.xlsx": titled }, from("log.xlsx"))).ledger.map(({ read, accepted }) => [read, accepted])).toEqual([[1, 1]]);
    await expect(intakeOf({ "log.xlsx": spreadsheetOf({ Log: [["stamp"], ["2026-10-01"]] }) }, from("log.xlsx"))).rejects.toThrow('log.xlsx/Log:1: The header lacks the columns "channel", "reading"');
  });

  it("gives texts in cells of their own, rich texts whole, yes and no as words", async () => {
    const rich: SheetCell = { xml: '<c AT t="inlineStr"><is><r><t>r</t></r><r><t>1</t></r><rPh><t>x</t></rPh></is></c>' };
    const { pairs } = await intakeOf({ "log.xlsx": spreadsheetOf({ s: [head, [at("2026-10-01T10:00:00"), rich, true], ["2026-10-01T11:00:00Z", "r1", "1"]] }) }, { ...from("log.xlsx/s"), signals: [] });
    expect(pairs).toEqual({});
    const { setAside } = await intakeOf({ "log.xlsx": spreadsheetOf({ s: [head, [at("2026-10-01T10:00:00"), rich, true]] }) }, from("log.xlsx/s"));
    expect(setAside.map(({ raw }) => raw)).toEqual(["2026-10-01T10:00:00,r1,true"]);
  });

  it("sets a row aside that names a text or a column which there is not", async () => {
    const book = spreadsheetOf({ s: [head, [at("2026-10-01T10:00:00"), { xml: '<c AT t="s"><v>99</v></c>' }, 4], [at("2026-10-01T10:00:00"), { xml: '<c r="ZZZZ3"><v>1</v></c>' }, 4]] });
    const { ledger, setAside } = await intakeOf({ "log.xlsx": book }, from("log.xlsx"));
    expect([ledger[0]!.read, ledger[0]!.setAside]).toEqual([2, 2]);
    expect(setAside.map(({ line, detail }) => `${line} ${detail}`)).toEqual(["2 a cell names the text 99, which there is not", '3 a cell is called "ZZZZ3"']);
  });

  it("that is none, or not whole, is refused", async () => {
    const refusal = (bytes: Uint8Array): Promise<string> => intakeOf({ "log.xlsx": bytes }, from("log.xlsx")).then(() => "read", (error: unknown) => (error as Error).message);
    const expected = "log.xlsx: The spreadsheet cannot be read. Expected a whole spreadsheet, as its name ends in .xlsx or .xlsm; found";
    const mend = "To mend it: save it again as .xlsx, or as CSV.";
    expect(await refusal(zipOf([["a.csv", "x"]]))).toBe(`${expected} an archive without xl/workbook.xml. ${mend}`);
    expect(await refusal(zipOf([["xl/workbook.xml", "<workbook>"]]))).toBe(`${expected} an archive without xl/_rels/workbook.xml.rels. ${mend}`);
    expect(await refusal(spreadsheetOf({}))).toBe(`${expected} no sheet with cells. ${mend}`);
    expect(await refusal(spreadsheetOf({ s: [head, [{ xml: "<c><v>1</c>" }]] }))).toMatch(/found xl\/worksheets\/sheet1\.xml that is not well-formed \(Unexpected close tag\)/);
    expect(await refusal(Buffer.from("d0cf11e0a1b11ae1", "hex"))).toBe(`${expected} one with a password, or an old one under a new name. ${mend}`);
    const whole = spreadsheetOf({ s: [head] });
    expect(await refusal(whole.subarray(0, whole.length / 2))).toContain("log.xlsx: The file cannot be unpacked. Expected a whole zip archive (spreadsheets are such archives too); found");
  });
});

describe("a number in a cell", () => {
  it.each([
    [14, undefined, "date"], [20, undefined, "time"], [22, undefined, "both"], [0, undefined, null], [2, undefined, null],
    [164, "yyyy-mm-dd", "date"], [164, "[$-407]d. mmmm yyyy;@", "date"], [164, "hh:mm:ss.000", "time"], [164, "[h]:mm", "time"], [164, 'dd"."mm"."yy hh:mm', "both"],
    [164, "h:mm AM/PM", "time"], [164, "0.00", null], [164, '0.0" mm"', null], [164, "#,##0\\ \"days\"", null], [164, "[Red]General", null], [164, "mmm-yy", "date"],
  ] as const)("in format %i %s shows %s", (id, code, parts) => {
    expect(datePartsOf(id, code)).toBe(parts);
  });

  it.each([
    ["46296.875", "both", "2026-10-01T21:00:00"], ["46296", "both", "2026-10-01T00:00:00"], ["46296", "date", "2026-10-01"], ["46296.5", "date", "2026-10-01T12:00:00"],
    ["0.875", "time", "21:00:00"], ["46296.875", "time", "2026-10-01T21:00:00"], ["1.5", "time", "1.5"], ["46296.4200115741", "both", "2026-10-01T10:04:49"],
    ["61", "date", "1900-03-01"], ["0.30000000000000004", null, "0.3"], ["-5", "date", "-5"], ["", "date", ""], ["1E-2", null, "0.01"],
  ] as const)("%s as %s reads %s", (written, parts, text) => {
    expect(numberText(written, parts, false)).toBe(text);
  });

  it("counts days from 1904 where the file says so", () => {
    expect(numberText("44834", "date", true)).toBe("2026-10-01");
  });
});
