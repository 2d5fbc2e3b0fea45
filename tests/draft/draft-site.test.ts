import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { draftSite, type SiteDraft } from "../../src/draft/draft-site.js";
import { draftTable } from "../../src/draft/draft-table.js";
import { InputError } from "../../src/ground/problem.js";
import { parseSite } from "../../src/site/parse.js";
import { iso, meterRows, sample, samplesOf } from "./invented-exports.js";
import { draftedOrRefused, expectLoadsOrAsks } from "./loads-or-asks.js";

const names = { site: "Otter Cottage", file: "site.yaml" };
const draft = (files: Readonly<Record<string, string | Uint8Array>>): SiteDraft => draftSite(samplesOf(files), names);
const text = (header: string, rows: readonly string[]) => `${[header, ...rows].join("\n")}\n`;
/** The draft with its zone said, as a site. */
const load = ({ yaml }: SiteDraft, zone = "Europe/London") => parseSite(yaml.replace(/^timezone: .*$/m, `timezone: ${zone}`), "site.yaml", "");

/** A bay of two meters. */
const oneBay = meterRows([
  { channel: "d1", bay: 1, near: 4.2, far: 8.1 },
  { channel: "w1", bay: 1, near: 26, far: 118 },
]);
const HOUR = 3_600_000;
const start = Date.UTC(2026, 5, 1, 12);
/** A door that opens every four hours for a minute. */
const door = (channel: string, open: string, closed: string, late = 0) =>
  Array.from({ length: 60 }, (_, i) => [`${iso(start + i * 4 * HOUR + late)},${channel},${open}`, `${iso(start + i * 4 * HOUR + 60_000 + late)},${channel},${closed}`]).flat();

describe("a drafted site file", () => {
  const both = draft({ "board.csv": text("stamp,channel,reading", [...oneBay, ...door("r1", "1", "0"), ...door("h1", "open", "shut", 2_000)]) });

  it("puts two meters that change together on one bay", () => {
    const site = load(both);
    expect(site.signals.filter(({ kind }) => kind === "distance").map(({ id, subject, expectMs, settleMs }) => ({ id, subject, expectMs, settleMs }))).toEqual([
      { id: "d1", subject: "bay-1", expectMs: 300_000, settleMs: 20_000 },
      { id: "w1", subject: "bay-1", expectMs: 300_000, settleMs: 20_000 },
    ]);
    expect(both.yaml).toContain('100 % of its changes and those of d1 come in pairs, and both names have "1"');
  });

  it("learns what 1 and 0 mean from a signal that says so in words", () => {
    const site = load(both);
    expect(site.signals.find(({ id }) => id === "r1")).toMatchObject({ kind: "contact", reading: { on: ["1"], off: ["0"] } });
    const reversed = draft({ "board.csv": text("stamp,channel,reading", [...door("r1", "0", "1"), ...door("h1", "open", "shut", 2_000)]) });
    expect(load(reversed).signals.find(({ id }) => id === "r1")).toMatchObject({ subject: "door-1", reading: { on: ["0"], off: ["1"] } });
  });

  it("does not guess what 1 and 0 mean when nothing tells: leaves the sensor out, and says so", () => {
    const lone = draft({ "board.csv": text("stamp,channel,reading", [...oneBay, ...door("x7", "1", "0")]) });
    expect(lone.leftOut).toMatchObject([{ signal: { id: "x7" }, why: "nothing in its readings or its name says what it watches" }]);
    expect(lone.yaml).toContain("    leave_out: [x7]\n");
    expect(lone.placings.map(({ signal }) => signal.id)).toEqual(["d1", "w1"]);
  });

  it("asks which word means open where only the name says that it is a door: the file does not load, and says where", () => {
    const lone = draft({ "board.csv": text("stamp,channel,reading", [...oneBay, ...door("side gate", "ON", "OFF")]) });
    const asked = 'signal side-gate: which of "ON" and "OFF" means open? It said "ON" 60 times, for less than 1 % of the time';
    expect(lone.open).toContain(asked);
    expect(lone.questions.find(({ text: question }) => question === asked)).toMatchObject({ id: "on:side-gate", weight: "blocks", choices: [{ answer: "ON", says: '"ON" means open' }, { answer: "OFF" }] });
    expect(() => load(lone)).toThrow(InputError);
    const filled = lone.yaml.replace("open: FILL-IN", 'open: "ON"').replace("closed: FILL-IN", 'closed: "OFF"').replace(/^timezone: .*$/m, "timezone: UTC");
    expect(parseSite(filled, "site.yaml", "").signals).toHaveLength(3);
  });

  it("takes the time zone from nowhere: stamps in UTC leave it open", () => {
    expect(both.open).toEqual(["in which time zone is the site? The stamps are in UTC, which does not tell"]);
    expect(both.problems).toEqual([expect.stringContaining("timezone is still to be filled in")]);
    expect(both.yaml).toContain("# 1 thing is left open: search for FILL IN. The file does not load before it is filled in.");
  });

  it("says the zone when only one has the offsets of the stamps", () => {
    const kathmandu = draft({ "a.csv": text("stamp,channel,reading", oneBay.map((row) => row.replace("Z", "+05:45"))) });
    expect(kathmandu.open).toEqual([]);
    expect(kathmandu.yaml).toMatch(/^timezone: Asia\/Kat/m);
    expect(kathmandu.yaml).toContain("# Nothing is left open.");
    expect(load(kathmandu).signals).toHaveLength(2);
  });

  it("writes no rule and no limit that is in force", () => {
    const site = load(both);
    expect([site.rules, site.limits]).toEqual([[], {}]);
    expect(both.yaml).toContain("# rules:\n#   - name: unlock on arrival");
    // What stands there works once the marks are taken away.
    const enabled = both.yaml.replace(/^timezone: .*$/m, "timezone: UTC").replace(/^# (rules:|limits:| {2}.*)$/gm, "$1");
    expect(parseSite(enabled.replace(/some: people.*?\}, |, \{ (?:some|every): people[^}]*\}/g, ""), "site.yaml", "").rules).toHaveLength(2);
  });

  it("reads a column a signal, with people's words", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)},${i % 40 < 25 ? "in" : "out"},${i % 2 === 0 ? "n/a" : i % 50 < 20 ? "in" : "out"}`);
    const wide = draft({ "phones.csv": text("When,Mira,Tom", rows) });
    const site = load(wide);
    expect(site.signals.map(({ id, subject, kind, expectMs }) => ({ id, subject, kind, expectMs }))).toEqual([
      { id: "phone-mira", subject: "mira", kind: "phone", expectMs: 900_000 },
      { id: "phone-tom", subject: "tom", kind: "phone", expectMs: 1_800_000 },
    ]);
    expect(site.sources[0]?.missing).toEqual(["", "n/a"]);
  });

  it("does not take two people who come and go together for one", () => {
    const rows = Array.from({ length: 100 }, (_, i) => `${iso(start + i * HOUR)},${i % 9 < 4 ? "in" : "out"},${i % 9 < 4 ? "in" : "out"}`);
    expect(load(draft({ "phones.csv": text("When,Mira,Tom", rows) })).subjects.map(({ id }) => id)).toEqual(["mira", "tom"]);
  });

  it("groups subjects by names with a common stem, and asks when the changes say otherwise", () => {
    const meters = meterRows([
      { channel: "bay-1-overhead", bay: 1, near: 4.2, far: 8.1 },
      { channel: "bay-1-wall", bay: 9, near: 26, far: 118 },
      { channel: "bay-2-overhead", bay: 9, near: 4.2, far: 8.1 },
    ]);
    const odd = draft({ "a.csv": text("stamp,sensor,value", meters) });
    expect(odd.open.filter((question) => question.startsWith("signal"))).toEqual(["signal bay-1-wall: does it watch the same bay as bay-1-overhead? The names say so, but their changes do not come together"]);
    expect(load(odd).signals.map(({ id, subject }) => [id, subject])).toEqual([["bay-1-overhead", "bay-1"], ["bay-1-wall", "bay-1"], ["bay-2-overhead", "bay-1"]]);
  });

  it("asks for band and unit where readings do not tell", () => {
    const steady = Array.from({ length: 500 }, (_, i) => `${iso(start + i * 60_000)},d1,${(200 + (i % 7) / 10).toFixed(1)}`);
    const one = draft({ "a.csv": text("stamp,channel,reading", steady) });
    expect(one.open).toEqual([
      "in which time zone is the site? The stamps are in UTC, which does not tell",
      expect.stringMatching(/^source a: in which unit are these distances\? The largest reading is about 200.6: 2.0 m in cm, 5.1 m in in\./),
      "signal d1: between which two distances does a vehicle stand? Its 500 readings do not fall into two heaps",
    ]);
  });

  it("reads semicolons, decimal commas, and text that is not UTF-8", () => {
    const rows = oneBay.map((row) => row.replaceAll(",", ";").replaceAll(".", ","));
    const bytes = Buffer.from(text("Zeit;Gerät;Wert", rows), "latin1");
    const found = draft({ "a.csv": bytes });
    expect(found.yaml).toContain('delimiter: ";"');
    expect(found.yaml).toContain("decimal: comma");
    expect(found.yaml).toContain("encoding: windows-1252");
    expect(found.yaml).toContain('signal: "Gerät"');
    expect(found.placings.map(({ signal }) => signal.reading.form === "distance" && signal.reading.band?.near)).toEqual([3.71, 14.5]);
  });

  it("keeps places out of everything it writes", () => {
    const rows = Array.from({ length: 50 }, (_, i) => `${iso(start + i * HOUR)},mira,50.12${i},-3.4${i}`);
    const found = draft({ "places.csv": text("at,who,lat,lon", rows) });
    expect(JSON.stringify([found.yaml, found.findings, found.open, found.problems, draftTable(found, true)])).not.toMatch(/50\.12\d|-3\.4\d/);
    expect(found.open).toContain("where is home? In degrees. No export tells");
    expect(found.yaml).toContain("home: { latitude: FILL-IN, longitude: FILL-IN }");
    const filled = found.yaml.replace("latitude: FILL-IN, longitude: FILL-IN", "latitude: 50.1, longitude: -3.4").replace(/^timezone: .*$/m, "timezone: UTC");
    expect(parseSite(filled, "site.yaml", "").signals).toMatchObject([{ kind: "position", subject: "mira" }]);
  });

  it("takes no column for channels that holds states, now and then not known", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)},${i % 2 === 0 ? 4.2 : 8.1},${i % 31 === 0 ? "unknown" : i % 40 < 25 ? "daheim" : "fort"}`);
    const found = draft({ "a.csv": text("at,overhead,mira", rows) });
    expect([...found.placings, ...found.leftOut].map(({ signal }) => signal.id)).toEqual(["overhead", "mira"]);
    expect(found.open).toContain('source a: does the column "mira" hold states, as taken here, or does it say which signal the row is about?');
  });

  it("marks the column of channels as a guess where its name does not say so", () => {
    const found = draft({ "a.csv": text("at,what,is", oneBay) });
    expect(found.yaml).toContain('# check: one reading a row: the texts of "what" are taken for names of signals, not for states of one');
  });

  it("asks about a signal whose changes say a bay and whose name says a person", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)},${i % 40 < 25 ? `${4.2 + (i % 3) / 100},near by` : `${8.1 + (i % 3) / 100},far off`}`);
    expect(draft({ "a.csv": text("at,overhead,phone", rows) }).open).toContain("signal phone: does it watch a bay, as its changes say, or a person, as its name says?");
  });

  it("does not take 2,410 and 820 for numbers of one size: a sign between thousands is none before decimals", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)};${i % 40 < 25 ? 815 + (i % 9) : `2.41${i % 9}`};${i % 40 < 20 ? "open" : "closed"}`);
    const found = draft({ "a.csv": text("at;overhead;rail", rows) });
    expect(found.placings.map(({ signal }) => signal.id)).toEqual(["rail"]);
    expect(found.yaml).toContain('# not used: column "overhead": numbers with a sign between thousands, such as "2.417": export them without');
  });

  it("says of readings of zero and below, and of cells that are no numbers, that they will not be used", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)},${i % 40 < 25 ? (1 + (i % 9) / 100).toFixed(2) : i % 3 === 0 ? -1 : 2.5},${i % 3 === 0 ? "inf" : 10 + (i % 7)}`);
    const { yaml } = draft({ "a.csv": text("at,overhead,wall", rows) });
    expect(yaml).toContain("# check: 35 readings are zero or below: they are no distances and will be set aside. If they mean that no echo came, the bay is not known to be empty then");
    expect(yaml).toContain('# not used: column "wall": numbers, but for 34 % of the cells, such as "inf"');
  });

  it("takes whole numbers for distances too", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)},${(i % 40 < 25 ? 120 : 240) + (i % 9)}`);
    expect(draft({ "a.csv": text("at,overhead-cm", rows) }).placings[0]?.signal.reading).toMatchObject({ form: "distance", band: { occupied: { count: 195 } } });
  });

  it("takes three decimals for what they are", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)},${((i % 40 < 25 ? 1.2 : 2.4) + (i % 9) / 1000).toFixed(3)}`);
    expect(draft({ "a.csv": text("at,overhead", rows) }).placings[0]?.signal.reading).toMatchObject({ form: "distance", band: { occupied: { count: 195 } } });
  });

  it("says which of two signs before decimals will be set aside", () => {
    const rows = Array.from({ length: 300 }, (_, i) => `${iso(start + i * 15 * 60_000)};${i % 40 < 25 ? 4.21 : 8.13}`.replace(/\.(?=\d\d$)/, i % 3 === 0 ? "," : "."));
    expect(draft({ "a.csv": text("at;overhead", rows) }).yaml).toContain("# check: numbers are written with a comma (100 of the first) and with a point (200): those with a comma will be set aside");
  });

  it("reads past zero bytes in a row, as they stand where the power failed, and says which row", () => {
    const rows = [...oneBay.slice(0, 5), oneBay[5]!.replace("Z", "Z\0\0\0"), ...oneBay.slice(6)];
    expect(draft({ "a.csv": text("stamp,channel,reading", rows) }).yaml).toContain(`stamps read as iso; line 7 (`);
  });

  it("names what it did not use", () => {
    const found = draft({ "a.csv": text("stamp,channel,reading", [...oneBay, ...Array.from({ length: 40 }, (_, i) => `${iso(start + i * HOUR)},temp1,${20 + i / 10}`)]) });
    expect(found.yaml).toContain('# not used: channel "temp1": measures something else than a distance');
    expect(found.placings.map(({ signal }) => signal.id)).toEqual(["d1", "w1"]);
  });
});

describe("exports that cannot be drafted from", () => {
  const told = (files: Readonly<Record<string, string | Uint8Array>>): string => {
    try {
      draft(files);
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
    return "";
  };
  it("are all named, each with what is wrong and what to do", () => {
    expect(told({ "a.csv": "", "b.csv": "time,value\n", "c.csv": "only one column\nx\n" }).split("\n")).toEqual([
      "a.csv: The file is empty. Expected a row of column names and rows of readings. To mend it: export it again, or leave it out.",
      "b.csv: The file has no row of data with as many cells as its header. Expected rows of readings; found none. To mend it: export it again, or leave it out.",
      "c.csv:1: The file has one column only. Expected a column with time stamps and a column with readings, separated by a comma, semicolon, tab or |. To mend it: export it as CSV with column names.",
    ]);
  });
  it("lack a header", () => {
    expect(told({ "a.csv": oneBay.join("\n") })).toMatch(/^a\.csv:1: The file has no header row\. Expected a first row with column names; found a row of data\. To mend it: export with column names, or add a first line with them; or run this where the file is: /);
  });
  it("lack time stamps", () => {
    expect(told({ "a.csv": "day,reading\nMonday,open\nTuesday,closed\n" })).toMatch(/^a\.csv:1: No column holds time stamps that can be read\. Expected a column with date and time, or one each: .*; found the columns "day", "reading"\. To mend it: export date and time written so, or write the site file by hand with a pattern: docs\/site-file\.md\.$/);
  });
  it("lack signals", () => {
    expect(told({ "a.csv": "at,remark\n2026-06-01T00:00:00Z,first\n2026-06-02T00:00:00Z,second\n2026-06-03T00:00:00Z,third\n" })).toMatch(/^a\.csv: No signal was found\. Expected readings that are two words/);
  });
  it("say what keeps each column from being a signal", () => {
    const rows = Array.from({ length: 60 }, (_, i) => `${iso(start + i * HOUR)},${(2 + i / 100).toFixed(2)} m,-${i + 1},open,open,x`);
    expect(told({ "a.csv": text("at,overhead,wall,rail,rail,", rows) })).toBe(
      'a.csv: No signal was found. Expected readings that are two words (open and closed, in and out, 1 and 0), distances, or latitude and longitude; found column "overhead": numbers with their unit, such as "2.00 m": export them without; column "wall": zero and negative numbers, which are no distances; column "rail": two columns are called so; a column without a name. To mend it: export readings that can be read, or write the site file by hand: docs/site-file.md.',
    );
  });
  it("write their stamps in two ways", () => {
    const rows = Array.from({ length: 60 }, (_, i) => `${i % 2 === 0 ? iso(start + i * HOUR) : "08/10/2026 21:00:00"},open`);
    expect(told({ "a.csv": text("at,rail", rows) })).toBe(
      'a.csv:1: No column holds time stamps that are all written in one way. Expected one column with date and time, written the same in every row; found in column "at" 30 of 60 stamps read as iso; line 3 ("08/10/2026 21:00:00") does not. To mend it: export all stamps in one way, or set the other rows apart in a file of their own.',
    );
  });
  it("begin with a title, or with a line that says what separates the columns", () => {
    expect(told({ "a.csv": `Log of the yard\n\n${text("stamp,channel,reading", oneBay)}`, "b.csv": `sep=,\n${text("stamp,channel,reading", oneBay)}` }).split("\n")).toEqual([
      "a.csv:1: The first line does not name the columns. Expected a first row with column names; found one cell, while line 3 has 3. To mend it: delete the lines above line 3.",
      "b.csv:1: The first line does not name the columns. Expected a first row with column names; found a line that says which sign separates them. To mend it: delete that line; a draft sees the sign by itself.",
    ]);
  });
  it("have other cells than names, as under a title, or with commas both between columns and before decimals", () => {
    expect(told({ "a.csv": text("at,overhead", oneBay.map((row) => row.replace(".", ","))) })).toBe(
      "a.csv:1: The file has no row of data with as many cells as its header. Expected rows of 2 cells; found 5760 of 4. To mend it: delete a title above the column names; or, if numbers hold the sign that separates the columns, export it with another sign.",
    );
  });
  it("have a name that no site file can hold", () => {
    expect(told({ "a\u001b.csv": text("stamp,channel,reading", oneBay) })).toBe("a\\u001b.csv: The file's name holds control characters, and no site file can name it. To mend it: rename the file.");
  });
  it("are not text", () => {
    expect(told({ "a.csv": Uint8Array.from([81, 75, 3, 4, 0, 0, 0, 1]) })).toMatch(/^a\.csv: The file is not plain text\. Expected CSV as text; found zero bytes/);
    expect(told({ "a.csv": Uint8Array.from([80, 75, 3, 4, 0, 0, 0, 1]) })).toMatch(/^a\.csv: The file is a zip archive, and its name does not end in \.zip\./);
  });
});

describe("whatever the text", () => {
  const cell = fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom("open", "closed", "1", "0", "4.2", "8.1", "in", "out", "n/a", "", "no-link", "FILL-IN", "2026-06-01T00:00:00Z", "01/02/2026 10:00", "1772330400", "d1", "# x", "*a", "&b", "yes", "null", "[", "- ", "a: b", "'", "50.1") },
    { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 12 }) },
  );
  const table = fc
    .tuple(fc.array(cell, { minLength: 1, maxLength: 5 }), fc.array(fc.array(cell, { minLength: 1, maxLength: 5 }), { maxLength: 12 }), fc.constantFrom(",", ";", "\t"))
    .map(([header, rows, delimiter]) => [header, ...rows].map((cells) => cells.join(delimiter)).join("\n"));
  /** Tables that look like exports, so that many get as far as a file: a stamp first, then columns of a few odd cells under odd names. */
  const likely = fc
    .tuple(fc.array(fc.tuple(cell, fc.array(cell, { minLength: 1, maxLength: 3 })), { minLength: 1, maxLength: 4 }), fc.array(fc.nat(11), { minLength: 2, maxLength: 30 }))
    .map(([columns, picks]) => [["at", ...columns.map(([name]) => name)], ...picks.map((pick, i) => [iso(start + i * HOUR), ...columns.map(([, pool], c) => pool[(pick + c * (i % 2)) % pool.length]!)])].map((cells) => cells.map((one) => `"${one.replaceAll('"', '""')}"`).join(",")).join("\n"));

  it("throws nothing but InputError, and writes a file that loads or marks every place that keeps it from loading", () => {
    let written = 0;
    fc.assert(
      fc.property(fc.oneof(table, { weight: 4, arbitrary: likely }, fc.string({ unit: "binary", maxLength: 300 })), fc.constantFrom("a.csv", "exports/b 1.csv", "ü*#.csv"), (content, name) => {
        const found = draftedOrRefused(() => [sample(name, content)], names);
        if (found === null) return;
        written++;
        expectLoadsOrAsks(found);
      }),
      { numRuns: 250 },
    );
    expect(written).toBeGreaterThan(20);
  });

  it("gives the same for the same bytes", () => {
    fc.assert(fc.property(likely, (content) => {
      const run = (): string => {
        try {
          return draftSite([sample("a.csv", content)], names).yaml;
        } catch (error) {
          return String(error);
        }
      };
      expect(run()).toBe(run());
    }), { numRuns: 50 });
  });
});
