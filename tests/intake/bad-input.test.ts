import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import type { Source } from "../../src/site/site.js";
import { intakeOf, longSource } from "./example-site.js";
import type { LedgerRow } from "../../src/result/ledger.js";

interface Outcome {
  /** `read = accepted + duplicate + set aside`. */
  readonly sum: string;
  /** Line, reason and detail of every row set aside. */
  readonly rows: string[];
  /** Instants (hh:mm:ss) and values of the meter. */
  readonly overhead: (string | number)[][];
  readonly ledger: LedgerRow;
}

async function outcomeOf(content: string | Uint8Array, parts: Partial<Source> = {}, name = "board.csv"): Promise<Outcome> {
  const { setAside, ledger, pairs } = await intakeOf({ [name]: content }, { sources: [longSource({ files: [name], ...parts })] });
  const [row] = ledger;
  return {
    sum: `${row!.read} = ${row!.accepted} + ${row!.duplicate} + ${row!.setAside}`,
    rows: setAside.map(({ line, reason, detail }) => `${line} ${reason}: ${detail}`),
    overhead: pairs["overhead"]!.map(([at, value]) => [at.slice(11, 19), Math.round(value * 1000) / 1000]),
    ledger: row!,
  };
}

const header = "stamp,channel,reading\n";
const ten = "2026-10-01T10:00:00Z,d1,10\n";
const five = "2026-10-01T10:00:10Z,d1,5\n";
const both = [["10:00:00", 3.048], ["10:00:10", 1.524]];

describe("text in another encoding", () => {
  const text = `${header}${ten}${five}`;
  const utf16be = (what: string): Buffer => Buffer.from(what, "utf16le").swap16();
  it.each<[string, Uint8Array, Partial<Source>]>([
    ["UTF-8 with a byte order mark", Buffer.from(`\ufeff${text}`), {}],
    ["UTF-16 LE with a mark", Buffer.from(`\ufeff${text}`, "utf16le"), {}],
    ["UTF-16 LE without", Buffer.from(text, "utf16le"), {}],
    ["UTF-16 BE with a mark", utf16be(`\ufeff${text}`), {}],
    ["UTF-16 BE without", utf16be(text), {}],
    ["UTF-16 where the site file says otherwise, but a mark is there", Buffer.from(`\ufeff${text}`, "utf16le"), { encoding: "utf-8" }],
    ["Windows-1252, as the site file says", Buffer.from(text, "latin1"), { encoding: "windows-1252" }],
  ])("%s is read", async (_, bytes, parts) => {
    expect(await outcomeOf(bytes, parts)).toMatchObject({ sum: "2 = 2 + 0 + 0", rows: [], overhead: both });
  });

  it("Windows-1252 has letters and signs that UTF-8 has not, in words too", async () => {
    const { setAside } = await intakeOf({ "board.csv": Buffer.from(`${header}2026-10-01T10:00:00Z,d1,\x80 gesch\xe4tzt\n`, "latin1") }, { sources: [longSource({ encoding: "windows-1252" })] });
    expect(setAside[0]).toMatchObject({ reason: "value not a number", raw: "2026-10-01T10:00:00Z,d1,€ geschätzt" });
  });

  it("Windows-1252 unannounced costs the rows with such letters, and no other", async () => {
    expect(await outcomeOf(Buffer.from(`${header}${ten}2026-10-01T10:00:05Z,d1,ge\xe4tzt\n${five}`, "latin1"))).toMatchObject({ sum: "3 = 2 + 0 + 1", rows: ["3 text not decodable: the row is not UTF-8 text"], overhead: both });
  });

  it("UTF-16 cut inside a character costs the last row", async () => {
    const cut = Buffer.from(`\ufeff${text}2026-10-01T10:00:20Z,d1,4`, "utf16le");
    expect(await outcomeOf(cut.subarray(0, cut.length - 1))).toMatchObject({ sum: "3 = 2 + 0 + 1", rows: ["4 text not decodable: the row is not UTF-8 text"], overhead: both });
  });
});

describe("other ways of separating", () => {
  it("semicolons with decimal commas", async () => {
    const text = "stamp;channel;reading\n2026-10-01T10:00:00Z;d1;10,5\n2026-10-01T10:00:01Z;d1;10.5\n2026-10-01T10:00:02Z;d1;1,000,5\n2026-10-01T10:00:03Z;d1; 7 \n";
    expect(await outcomeOf(text, { delimiter: ";", decimal: "," })).toMatchObject({
      sum: "4 = 2 + 0 + 2",
      rows: ['3 value not a number: column "reading": "10.5" is not a number', '4 value not a number: column "reading": "1,000,5" is not a number'],
      overhead: [["10:00:00", 3.2], ["10:00:03", 2.134]],
    });
  });

  it("decimal commas inside quotes between commas", async () => {
    expect((await outcomeOf(`${header}2026-10-01T10:00:00Z,d1,"10,5"\n`, { decimal: "," })).overhead).toEqual([["10:00:00", 3.2]]);
  });

  it("tabs", async () => {
    expect((await outcomeOf(`${header}${ten}${five}`.replaceAll(",", "\t"), { delimiter: "\t" })).overhead).toEqual(both);
  });

  it("quotes, with delimiters, quotes and line breaks inside, and CR LF", async () => {
    const text = `stamp,channel,reading,note\r\n"2026-10-01T10:00:00Z","d1","10","said ""hello"",\r\nthen left"\r\n2026-10-01T10:00:10Z,d1,5,\r\nnever,d1,5,\r\n`;
    expect(await outcomeOf(text)).toMatchObject({ sum: "3 = 2 + 0 + 1", rows: ['5 time stamp not readable: column "stamp": "never" is not written as iso'], overhead: both });
  });
});

describe("rows that do not belong", () => {
  it("are ragged", async () => {
    expect(await outcomeOf(`${header}${ten}2026-10-01T10:00:05Z,d1\n2026-10-01T10:00:06Z,d1,4,4\n${five}`)).toMatchObject({
      sum: "4 = 2 + 0 + 2",
      rows: ["3 wrong number of columns: 2 instead of the header's 3", "4 wrong number of columns: 4 instead of the header's 3"],
      overhead: both,
    });
  });

  it("repeat the header, where exports were appended to one another", async () => {
    expect(await outcomeOf(`${header}${ten}${header}${ten}${five}`)).toMatchObject({ sum: "4 = 2 + 1 + 1", rows: ["3 repeated header: the row repeats the column names"], overhead: both });
  });

  it("are totals and text after the data", async () => {
    expect(await outcomeOf(`${header}${ten}${five}Total,,15\n\n-- end of export --\n`)).toMatchObject({
      sum: "4 = 2 + 0 + 2",
      rows: ['4 time stamp not readable: column "stamp": "Total" is not written as iso', "6 wrong number of columns: 1 instead of the header's 3"],
      overhead: both,
    });
  });
});

describe("files that stop too soon", () => {
  it("plain, inside a row: the row is set aside and the ledger says so", async () => {
    const { sum, rows, ledger } = await outcomeOf(`${header}${ten}${five}2026-10-01T10:00:2`);
    expect([sum, rows, ledger.cutOff]).toEqual(["3 = 2 + 0 + 1", ["4 cut off: the file stops here, after 1 of 3 columns"], true]);
  });

  it("plain, behind a whole row without a line break: that is no cut", async () => {
    const { sum, ledger } = await outcomeOf(`${header}${ten}${five.trimEnd()}`);
    expect([sum, ledger.cutOff]).toEqual(["2 = 2 + 0 + 0", false]);
  });

  it("packed: rows up to the cut are kept, the one it goes through is not, be it whole to look at", async () => {
    const lines = Array.from({ length: 5000 }, (_, i) => `2026-10-01T10:00:00.${String(i % 1000).padStart(3, "0")}Z,d1,${3 + ((i * i) % 9777) / 1000}\n`);
    const packed = gzipSync(header + lines.join(""));
    const { sum, rows, ledger } = await outcomeOf(packed.subarray(0, packed.length / 2), {}, "board.csv.gz");
    expect(ledger.cutOff).toBe(true);
    expect(ledger.accepted).toBeGreaterThan(1000);
    expect(sum).toBe(`${ledger.accepted + ledger.duplicate + 1} = ${ledger.accepted} + ${ledger.duplicate} + 1`);
    expect(rows[0]).toMatch(new RegExp(`^${ledger.read + 1} cut off: the file stops here, (after \\d of 3 columns|perhaps inside the last cell)$`));
  });

  it("packed, before any row: nothing is left to read", async () => {
    await expect(outcomeOf(gzipSync(header).subarray(0, 12), {}, "board.csv.gz")).rejects.toThrow("board.csv.gz: The packed file is cut off before its first row. Expected a whole gzip file; found its end before the end of the data. To mend it: copy or export it again.");
  });
});

describe("stamps", () => {
  it("with month names and a twelve-hour clock", async () => {
    const text = 'stamp,channel,reading\n"1 Oct 2026, 11:00 AM",d1,10\n"1 October 2026, 11:10 AM",d1,10\n"1 Oct 2026, 1:05 pm",d1,5\n"31 Sep 2026, 1:05 PM",d1,5\n';
    expect(await outcomeOf(text, { written: { pattern: "d MMM yyyy, h:mm a" } })).toMatchObject({
      sum: "4 = 2 + 0 + 2",
      rows: ['3 time stamp not readable: column "stamp": "1 October 2026, 11:10 AM" is not written as d MMM yyyy, h:mm a', '5 time stamp not readable: column "stamp": "31 Sep 2026, 1:05 PM" is not written as d MMM yyyy, h:mm a'],
      overhead: [["10:00:00", 3.048], ["12:05:00", 1.524]],
    });
  });

  it("written in several ways in one column: those that are not as the site file says are set aside, and named", async () => {
    const text = `${header}${ten}1790848800,d1,5\n1790848800123,d1,5\n01/10/2026 10:00,d1,5\n`;
    expect(await outcomeOf(text)).toMatchObject({
      sum: "4 = 1 + 0 + 3",
      rows: [
        '3 time stamp not readable: column "stamp": "1790848800" is not written as iso; it looks like epoch-s',
        '4 time stamp not readable: column "stamp": "1790848800123" is not written as iso; it looks like epoch-ms',
        '5 time stamp not readable: column "stamp": "01/10/2026 10:00" is not written as iso',
      ],
    });
    expect((await outcomeOf(`${header}${ten}`, { written: "epoch-s" }).catch((error: unknown) => (error as Error).message)) as unknown).toMatchObject({
      rows: ['2 time stamp not readable: column "stamp": "2026-10-01T10:00:00Z" is not written as epoch-s; it looks like iso'],
    });
  });

  it("in a skipped hour, a repeated hour, and with a leap second", async () => {
    const text = `${header}2026-03-29T01:30:00,d1,10\n2026-10-25T01:30:00,d1,10\n2026-10-25T01:20:00,d1,5\n2016-12-31T23:59:60Z,d1,5\n2016-12-30T23:59:60Z,d1,5\n`;
    const { sum, rows, ledger } = await outcomeOf(text);
    expect([sum, ledger.repeatedHourRows]).toEqual(["5 = 3 + 0 + 2", 2]);
    expect(rows).toEqual(['2 local time skipped by a clock change: column "stamp": "2026-03-29T01:30:00" does not exist in Europe/London', '6 time stamp not readable: column "stamp": "2016-12-30T23:59:60Z" is not written as iso']);
  });
});
