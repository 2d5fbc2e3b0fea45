import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { withRows } from "../../../src/commands/confirm/diary-text.js";
import { makeRowReader } from "../../../src/intake/rows.js";

const writing = { file: "diary.csv", timeZone: "Europe/London", note: "answered 2026-11-26" };
const stay = { subject: "mira", state: "here", from: Date.parse("2026-10-24T22:00:00Z"), to: Date.parse("2026-10-25T06:00:00Z") };
const added = (text: string): string => withRows(Buffer.from(text), [stay], writing).toString();

describe("rows added to a diary", () => {
  it("begin a new one with its header, times with the offset of their day", () => {
    expect(withRows(null, [stay], writing).toString()).toBe("subject,state,from,to,note\r\nmira,here,2026-10-24T23:00:00+01:00,2026-10-25T06:00:00+00:00,answered 2026-11-26\r\n");
  });

  it("go where the header has their columns; further columns stay empty", () => {
    expect(added("who,to,from,state,subject,note\nx,2026-10-02T09:00,2026-10-02T08:00,away,mira,\"a, b\"\n")).toBe(
      "who,to,from,state,subject,note\nx,2026-10-02T09:00,2026-10-02T08:00,away,mira,\"a, b\"\n,2026-10-25T06:00:00+00:00,2026-10-24T23:00:00+01:00,here,mira,answered 2026-11-26\n",
    );
  });

  it("keep a missing last line end, a byte order mark, blank lines and the file's own line ends", () => {
    expect(added("\ufeff\r\nsubject,state,from,to\r\nmira,,,")).toBe("\ufeff\r\nsubject,state,from,to\r\nmira,,,\r\nmira,here,2026-10-24T23:00:00+01:00,2026-10-25T06:00:00+00:00\r\n");
    expect(added("subject,state,from,to\r").split("\r")).toHaveLength(3);
  });

  it("quote what needs it", () => {
    expect(withRows(null, [{ ...stay, subject: 'a "b", c' }], writing).toString()).toContain('"a ""b"", c",here,');
  });

  it("are refused where the file is no diary", () => {
    expect(() => added("when,what\n1,2\n")).toThrow("diary.csv: The first line of the diary file is not the header of a diary. Expected subject,state,from,to; found when,what. To mend it: correct its first line, or name another file under `diary` in the site file.");
  });

  it("leave every byte before them as it was, whatever it is, and read back as they were given", () => {
    fc.assert(
      fc.property(fc.array(fc.record({ subject: fc.string({ minLength: 1, unit: "binary" }), state: fc.constantFrom("", "here", "away") }), { minLength: 1, maxLength: 5 }), fc.uint8Array({ maxLength: 40 }), fc.constantFrom("\n", "\r\n"), (rows, bytes, lineEnd) => {
        const tail = Buffer.from(bytes.map((byte) => (byte === 34 || byte === 10 || byte === 13 ? 35 : byte)));
        const before = Buffer.concat([Buffer.from(`subject,state,from,to${lineEnd}`), tail]);
        const after = withRows(before, rows.map((row) => ({ ...stay, ...row })), writing);
        expect(after.subarray(0, before.length).equals(before)).toBe(true);
        const read: { subject: string | undefined; state: string | undefined }[] = [];
        const reader = makeRowReader(",", { row: ([subject, state]) => void read.push({ subject, state }), badRow: (reason) => void read.push({ subject: reason, state: "" }) });
        reader.push(after.subarray(before.length + (tail.length === 0 ? 0 : lineEnd.length)));
        reader.end();
        expect(read).toEqual(rows);
      }),
    );
  });
});
