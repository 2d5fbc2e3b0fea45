import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { readExports } from "../../src/intake/read-exports.js";
import type { Source } from "../../src/site/site.js";
import { contactSignal, distanceSignal, exampleSite, intakeOf, longSource, positionSignal, writeFiles } from "./example-site.js";
import { pairsOf } from "./packed.js";

const header = "stamp,channel,reading\n";
const wide = (parts: Partial<Source> = {}): Source =>
  longSource({ missing: ["", "n/a"], lost: ["offline"], layout: { form: "wide", columns: new Map([["overhead", { value: "top" }], ["rail", { value: "door" }]]) }, ...parts });
const wideSignals = [distanceSignal("overhead", { channel: null, reading: { form: "distance", unit: "m" } }), contactSignal("rail", { channel: null })];

/** The rows set aside as `line reason`. */
const fates = (rows: readonly { readonly line: number; readonly reason: string }[]): string[] => rows.map(({ line, reason }) => `${line} ${reason}`);

async function message(files: Readonly<Record<string, string | Uint8Array>>, sources: readonly Source[] = [longSource()]): Promise<string> {
  const error: unknown = await intakeOf(files, { sources }).then(() => null, (reason: unknown) => reason);
  expect(error).toBeInstanceOf(InputError);
  return (error as InputError).message;
}

describe("exports of the long layout", () => {
  it("become readings in metres and words, one ledger line a file", async () => {
    const { pairs, ledger, setAside } = await intakeOf({ "board.csv": `${header}2026-10-01T10:00:00Z,d1,10\n2026-10-01T10:00:05Z,r1,1\n2026-10-01T10:00:10Z,d1,5\n` });
    expect(pairs).toEqual({
      overhead: [
        ["2026-10-01T10:00:00.000Z", 3.048],
        ["2026-10-01T10:00:10.000Z", 1.524],
      ],
      rail: [["2026-10-01T10:00:05.000Z", 1]],
    });
    expect(ledger).toEqual([
      { source: "board", file: "board.csv", read: 3, accepted: 3, duplicate: 0, setAside: 0, reasons: [], missingCells: 0, unreadableCells: 0, repeatedHourRows: 0, shiftedRows: 0, outOfOrderRows: 0, cutOff: false, first: Date.UTC(2026, 9, 1, 10), last: Date.UTC(2026, 9, 1, 10, 0, 10) },
    ]);
    expect(setAside).toEqual([]);
  });

  it("set aside what cannot be used, each row with its reason", async () => {
    const { ledger, setAside } = await intakeOf(
      {
        "board.csv":
          header +
          "2026-10-01T10:00:00Z,d1,10\n" +
          "2026-10-01T10:00:01Z,d1\n" +
          "yesterday,d1,10\n" +
          "2026-03-29T01:30:00,d1,10\n" +
          "2026-10-01T10:00:02Z,d9,10\n" +
          "2026-10-01T10:00:03Z,d1,n/a\n" +
          "2026-10-01T10:00:04Z,d1,far\n" +
          "2026-10-01T10:00:05Z,d1,-1\n" +
          "2026-10-01T10:00:06Z,r1,ajar\n" +
          "stamp,channel,reading\n" +
          '2026-10-01T10:00:07Z,d1,"4\n' +
          "2026-10-01T10:00:08Z,d1,11\n",
      },
      { sources: [longSource({ missing: ["n/a"] })] },
    );
    expect(fates(setAside)).toEqual([
      "3 wrong number of columns",
      "4 time stamp not readable",
      "5 local time skipped by a clock change",
      "6 channel not in the site file",
      "7 no value",
      "8 value not a number",
      "9 distance zero or negative",
      "10 word not in the site file",
      "11 repeated header",
      "12 quote not closed",
    ]);
    expect(ledger[0]).toMatchObject({ read: 12, accepted: 2, duplicate: 0, setAside: 10 });
    expect(setAside[1]).toEqual({ file: "board.csv", line: 4, reason: "time stamp not readable", detail: 'column "stamp": "yesterday" is not written as iso', raw: "yesterday,d1,10" });
    expect(setAside[6]!.detail).toBe('column "reading": "-1" is no distance');
  });

  it("keep the text of a row that was set aside, quoted where it must be, to 500 characters", async () => {
    const { setAside } = await intakeOf({ "board.csv": `${header}never,"a,""b""",1\nnever,d1,${"x".repeat(600)}\n` });
    expect(setAside[0]!.raw).toBe('never,"a,""b""",1');
    expect(setAside[1]!.raw).toHaveLength(500);
  });

  it("may feed two signals from one channel", async () => {
    const { pairs, ledger } = await intakeOf({ "board.csv": `${header}2026-10-01T10:00:00Z,d1,1\n` }, { signals: [distanceSignal("near"), distanceSignal("far")] });
    expect([pairs["near"]!.length, pairs["far"]!.length, ledger[0]!.accepted]).toEqual([1, 1, 1]);
  });
});

describe("exports of the wide layout", () => {
  it("use the good cells of a row, count the others, and report the unreadable ones without setting the row aside", async () => {
    const { pairs, ledger, setAside } = await intakeOf(
      { "board.csv": "stamp,top,door\n2026-10-01T10:00:00Z,1.5,1\n2026-10-01T10:00:01Z,,0\n2026-10-01T10:00:02Z,1.6,ajar\n2026-10-01T10:00:03Z,,n/a\n2026-10-01T10:00:04Z,,ajar\n2026-10-01T10:00:05Z,offline,\n" },
      { sources: [wide()], signals: wideSignals },
    );
    expect(pairs["overhead"]!.map(([, value]) => value)).toEqual([1.5, 1.6, Number.NaN]);
    expect(pairs["rail"]!.map(([, value]) => value)).toEqual([1, 0]);
    expect(ledger[0]).toMatchObject({ read: 6, accepted: 4, setAside: 2, missingCells: 2, unreadableCells: 1, reasons: [{ reason: "no value", count: 1 }, { reason: "word not in the site file", count: 1 }] });
    expect(setAside.map(({ line, detail }) => [line, detail])).toEqual([
      [4, 'column "door": "ajar" is none of this signal\'s words; the rest of the row was used'],
      [5, "nothing in any column of a signal"],
      [6, 'column "door": "ajar" is none of this signal\'s words'],
    ]);
  });

  it("are duplicates only where every reading is there already", async () => {
    const { ledger, pairs } = await intakeOf(
      { "board.csv": "stamp,top,door\n2026-10-01T10:00:00Z,1.5,1\n2026-10-01T10:00:00Z,1.5,1\n2026-10-01T10:00:00Z,1.5,\n2026-10-01T10:00:00Z,1.5,0\n" },
      { sources: [wide()], signals: wideSignals },
    );
    expect(ledger[0]).toMatchObject({ read: 4, accepted: 2, duplicate: 2 });
    expect([pairs["overhead"]!.length, pairs["rail"]!.map(([, value]) => value)]).toEqual([1, [1, 0]]);
  });
});

describe("exports in several files", () => {
  it("overlap without counting a reading twice, keep different values of one instant, and are sorted", async () => {
    const { pairs, ledger } = await intakeOf(
      {
        "board-2.csv": `${header}2026-10-01T10:00:10Z,d1,2\n2026-10-01T10:00:20Z,d1,3\n2026-10-01T10:00:10Z,d1,9\n`,
        "board-1.csv.gz": gzipSync(`${header}2026-10-01T10:00:00Z,d1,1\n2026-10-01T10:00:10Z,d1,2\n`),
      },
      { sources: [longSource({ files: ["board-*"] })], signals: [distanceSignal("overhead", { reading: { form: "distance", unit: "m" } })] },
    );
    expect(pairs["overhead"]).toEqual([
      ["2026-10-01T10:00:00.000Z", 1],
      ["2026-10-01T10:00:10.000Z", 2],
      ["2026-10-01T10:00:10.000Z", 9],
      ["2026-10-01T10:00:20.000Z", 3],
    ]);
    expect(ledger.map(({ file, read, accepted, duplicate, outOfOrderRows }) => [file, read, accepted, duplicate, outOfOrderRows])).toEqual([
      ["board-1.csv.gz", 2, 2, 0, 0],
      ["board-2.csv", 3, 2, 1, 1],
    ]);
  });

  it("tell how far reading has come, over all of them", async () => {
    const site = await exampleSite({ sources: [longSource({ files: ["*.csv"] })] });
    const [first, second] = [`${header}2026-10-01T10:00:00Z,d1,1\n`, `${header}2026-10-01T10:00:10Z,d1,2\n`];
    await writeFiles(site, { "a.csv": first, "b.csv": second });
    const total = first.length + second.length;
    const told: [string, number, number, number][] = [];
    await readExports(site, { onSetAside: () => undefined, onProgress: ({ file, bytes, totalBytes, rows }) => told.push([file, bytes, totalBytes, rows]) });
    expect(told).toEqual([
      ["a.csv", first.length, total, 1],
      ["b.csv", total, total, 2],
    ]);
  });
});

describe("stamps in exports", () => {
  it("count the repeated hour, and skipped times that were shifted, and take the clock correction on top", async () => {
    const { pairs, ledger } = await intakeOf(
      { "board.csv": `${header}2026-03-29T01:30:00,d1,1\n2026-10-25T01:30:00,d1,1\n2026-10-25T01:10:00,d1,1\n` },
      { sources: [longSource({ skippedHour: "shift", clockCorrectionMs: 500 })] },
    );
    expect(pairs["overhead"]!.map(([time]) => time)).toEqual(["2026-03-29T01:30:00.500Z", "2026-10-25T00:30:00.500Z", "2026-10-25T01:10:00.500Z"]);
    expect(ledger[0]).toMatchObject({ accepted: 3, repeatedHourRows: 2, shiftedRows: 1 });
  });
});

describe("positions", () => {
  const source = longSource({ layout: { form: "long", signalColumn: "channel", valueColumn: "reading", latitudeColumn: "lat", longitudeColumn: "lon" } });

  it("become metres from home, and no coordinate outlives intake", async () => {
    const { pairs, setAside, ledger } = await intakeOf(
      {
        "board.csv":
          "stamp,channel,reading,lat,lon\n" +
          "2026-10-01T10:00:00Z,p1,,51.501,-0.12\n" +
          "2026-10-01T10:00:01Z,r1,1,51.4321,-0.4321\n" +
          "51.4321,p1,,51.4321,-0.4321\n" +
          "2026-10-01T10:00:02Z,51.4321,,51.4321,-0.4321\n" +
          "2026-10-01T10:00:03Z,p1,,51.4321,-999.4321\n" +
          "2026-10-01T10:00:04Z,p1,51.4321,-0.4321\n" +
          "2026-10-01T10:00:05Z,p1,,51.4321,x-0.4321\n" +
          '2026-10-01T10:00:06Z,p1,,51.4321,"-0.4321\n',
      },
      { sources: [source], signals: [positionSignal("mira-phone"), contactSignal("rail")] },
    );
    expect(pairs["mira-phone"]!.map(([, metres]) => Math.round(metres))).toEqual([111]);
    expect(fates(setAside)).toEqual(["4 time stamp not readable", "5 channel not in the site file", "6 position out of range", "7 wrong number of columns", "8 value not a number", "9 quote not closed"]);
    expect(JSON.stringify({ pairs, setAside, ledger })).not.toMatch(/4321/);
  });

  it("of a file without header do not appear in the message", async () => {
    expect(await message({ "board.csv": "p1,51.4321,-0.4321\n" }, [source])).not.toMatch(/4321/);
  });
});

describe("files that cannot be read", () => {
  it("are all named at once", async () => {
    const text = await message({ "empty.csv": "", "blank.csv": "\ufeff\n\n" }, [longSource({ files: ["gone.csv", "empty.csv", "blank.csv"] }), longSource({ id: "other", files: ["more-*.csv"] })]);
    expect(text.split("\n").map((line) => line.replace(/ in \/.*?\. | at \/.*?\. /, " … "))).toEqual([
      'gone.csv: The file does not exist. Expected a file for source "board"; found nothing … To mend it: put the file there, or change its path in the site file.',
      'No file matches "more-*.csv". Expected export files for source "other"; found none … To mend it: put the files there, or change the pattern in the site file.',
      "blank.csv: The file is empty. Expected a header row and rows of readings; found nothing. To mend it: export it again, or take it out of the site file.",
      "empty.csv: The file is empty. Expected a header row and rows of readings; found nothing. To mend it: export it again, or take it out of the site file.",
    ]);
  });

  it("are binary", async () => {
    expect(await message({ "board.csv": gzipSync(header.repeat(100)) })).toBe("board.csv: The file is packed with gzip, and its name does not end in .gz. Expected CSV as text; found gzip data. To mend it: rename it, also in the site file: mv -i board.csv board.csv.gz.");
    expect(await message({ "board.csv": Buffer.from("stämp,channel,reading\n", "latin1") })).toBe(
      "board.csv:1: The header cannot be decoded. Expected UTF-8 text, or what `encoding` says; found other bytes. To mend it: say `encoding: windows-1252` in the site file if that is what it is, or save the file as UTF-8.",
    );
    expect(await message({ "board.csv": Buffer.from(header, "utf16le") }, [longSource({ encoding: "windows-1252" })])).toBe(
      "board.csv: The file is not written as the site file says. Expected text of one byte a character or UTF-8; found what looks like UTF-16. To mend it: take `encoding` out of the site file, or save the file as it says.",
    );
  });

  it("have no header that fits", async () => {
    expect(await message({ "board.csv": "2026-10-01T10:00:00Z,d1,10\n" })).toMatch(/^board\.csv:1: The file has no header row\./);
    expect(await message({ "board.csv": "1790812800,d1,10\n" }, [longSource({ written: "epoch-s" })])).toMatch(/^board\.csv:1: The file has no header row\./);
    expect(await message({ "board.csv": "stamp,chanel,reading\n" })).toContain('The header lacks the column "channel"');
    expect(await message({ "board.csv": "stamp,channel,reading,reading\n" })).toContain('The header names "reading" more than once');
    expect(await message({ "board.csv": `"${header}` })).toMatch(/^board\.csv:1: The file has no readable header row\. .*quote not closed/);
  });

  it("have stamps that do not say the year", async () => {
    expect(await message({ "board.csv": header }, [longSource({ written: { pattern: "dd/MM HH:mm" } })])).toMatch(/The time pattern of source "board" has no year\. Expected a pattern with yyyy; found "dd\/MM HH:mm"\./);
  });
});

describe("a source without rows", () => {
  it("leaves its signals without readings", async () => {
    const { readings, ledger } = await intakeOf({ "board.csv": header });
    expect([...readings.values()].map(pairsOf)).toEqual([[], []]);
    expect(ledger[0]).toMatchObject({ read: 0, first: null, last: null });
  });
});
