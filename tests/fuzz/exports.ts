import { readFile as bytesOf, readdir } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { runProgram } from "../../src/commands/program.js";
import { InputError, type ProblemParts } from "../../src/ground/problem.js";
import { findExports } from "../../src/intake/find-exports.js";
import { readFile } from "../../src/intake/read-file.js";
import type { SetAsideRow } from "../../src/intake/readings.js";
import { happens, type Random } from "../../src/simulate/random.js";
import { loadSite } from "../../src/site/load.js";
import { sourcesOf, type Site } from "../../src/site/site.js";
import { listening } from "../commands/tiny-site.js";
import { daysOf, databaseOf, spreadsheetOf, zipOf, type SheetCell } from "../intake/invented-holders.js";
import { damagedBytes, damagedLines } from "./damage.js";
import { rowsThere } from "./independent-counts.js";
import type { Came, Target } from "./target.js";

/** Commands over one export take longer than reading it: one input in this many is given to them. */
const COMMANDS_EVERY = 20;

const rows = Array.from({ length: 60 }, (_, i) => [`2026-10-01T10:${String(i).padStart(2, "0")}:00`, ["d1", "r1", "spare"][i % 3] ?? "", i % 3 === 1 ? (i % 2) : 4 + i / 10] as const);
const csv = `stamp,channel,reading\n${rows.map((row) => `${row.join(",")}\n`).join("")}`;
const quoted = csv.replace(/^(\S+),(\w+),(.*)$/gm, '"$1","$2","$3"').replaceAll("\n", "\r\n");
const records = rows.map(([stamp, channel, reading]) => ({ stamp, channel, reading, more: { lat: 1, list: [1, "two"], none: null } }));
const cells: SheetCell[][] = [["stamp", "channel", "reading"], ...rows.map(([at, channel, reading]): SheetCell[] => [{ days: daysOf(at), as: "both" }, channel, reading])];
const gpx = `<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE gpx [ <!ENTITY a "b"> ]>\n<gpx version="1.1"><!-- c --><trk><name>walk &amp; &#x61;</name><trkseg>\n${rows.map(([at], i) => `<trkpt lat="51.5${i}" lon="-0.1${i}"><ele>3</ele><time>${at}Z</time><![CDATA[ x ]]></trkpt>`).join("\n")}\n</trkseg></trk></gpx>\n`;

const sheetXml = `<worksheet><sheetData>\n<row r="1"><c r="A1" t="inlineStr"><is><t>stamp</t></is></c><c r="B1" t="inlineStr"><is><t>channel</t></is></c><c r="C1" t="inlineStr"><is><t>reading</t></is></c></row>\n${rows.map(([at, channel, reading], i) => `<row r="${i + 2}"><c r="A${i + 2}" s="3"><v>${daysOf(at)}</v></c><c r="B${i + 2}" t="inlineStr"><is><t>${channel}</t></is></c><c r="C${i + 2}"><v>${reading}</v></c></row>`).join("\n")}\n</sheetData></worksheet>`;

const siteOf = (files: string): string => `site: Heron Lane
timezone: Europe/London
sources:
  board: { files: "${files}", time: { column: stamp, written: iso }, signal: channel, value: reading, leave_out: [spare] }
bays: { bay-1: {} }
doors: { yard-door: {} }
signals:
  overhead: { on: bay-1, source: board, channel: d1, kind: distance, unit: ft, present: [3, 6] }
  rail: { on: yard-door, source: board, channel: r1, kind: contact, open: ["1"], closed: ["0"] }
`;
const walkSite = `site: Otter Cottage
timezone: Europe/London
sources:
  walk: { files: a.gpx, time: { column: time, written: iso }, latitude: lat, longitude: lon, signal: track }
home: { latitude: 51.5, longitude: -0.1 }
people: { ida: {} }
signals:
  phone: { on: ida, source: walk, channel: "walk & a", kind: position, radius: 150m }
`;

const csvTokens = ['"', '""', '",', '\n"', "stamp,channel,reading\n", "2026-10-25T01:30:00", "2026-10-01T10:05:00Z,d1,4\n", "'=", "'-", ",,,,", "\r\r", "sep=,\n", "999999999999999999", "0x1F", "4,5", "\ufeff"];
const xmlTokens = ["<", ">", "&", "</", "/>", "<!", "<!--", "-->", "<![CDATA[", "]]>", "<!DOCTYPE", "<?", "?>", "&amp", "&#0;", "&#x110000;", "&lol;", "<trkpt>", "</trk>", '="', "xmlns:a=", "<a:b>"];
const jsonTokens = ["{", "}", "[", "]", '":', '\\"', "\\u0000", "\\ud800", "null", "1e999", "{}", '{"stamp":', '"__proto__":{', "\n{", ",", "//"];
/** Signs of the formats' own: zip, Parquet, SQLite, gzip. */
const markTokens = ["PK\u0003\u0004", "PK\u0001\u0002", "PK\u0005\u0006", "PAR1", "SQLite format 3\0", "\u001f\u008b\u0008", "xl/workbook.xml", "../../../x", "a.csv"];

type Samples = readonly (string | Buffer)[];
type Damage = (random: Random) => Buffer;
const ofBytes = (samples: Samples, tokens: readonly string[]): Damage => {
  const all = samples.map((sample) => Buffer.from(sample));
  return (random) => damagedBytes(random, all, tokens);
};
/** Half of the inputs are still a text of lines. */
const ofText = (samples: readonly string[], tokens: readonly string[]): Damage => {
  const bytes = ofBytes(samples, tokens);
  return (random) => (happens(random, 0.5) ? bytes(random) : Buffer.from(damagedLines(random, samples[Math.floor(random() * samples.length)] ?? "", tokens)));
};
/** Some are damaged before they are packed, as else hardly any would be unpacked. */
const packedOr = (inner: Damage, pack: (bytes: Buffer) => Buffer, outer: Damage): Damage => (random) => (happens(random, 0.5) ? pack(inner(random)) : outer(random));

/** All formats of exports. */
export async function exportTargets(): Promise<Target[]> {
  const ofCsv = ofText([csv, quoted, csv.replaceAll("\n", "\r")], csvTokens);
  const zip = zipOf([["one.csv", csv], ["two.csv", { content: quoted, stored: true }], ["three.jsonl", records.map((one) => JSON.stringify(one)).join("\n")]]);
  const sheet = spreadsheetOf({ Log: cells, More: cells });
  const database = await databaseOf("create table log (stamp text, channel text, reading real)", `insert into log values ${rows.map(([at, channel, reading]) => `('${at}', '${channel}', ${reading})`).join(", ")}`, "create view seen as select * from log where reading > 4", "create index by_stamp on log (stamp)");
  const samples = await readdir("tests/fuzz/samples");
  const parquet = await Promise.all(samples.map((name) => bytesOf(join("tests/fuzz/samples", name))));
  const lines = records.map((one) => JSON.stringify(one)).join("\n");
  const texts = [csv, quoted, csv.replaceAll("\n", "\r")];
  const packed = [gzipSync(csv), Buffer.concat([gzipSync(csv), gzipSync("\n")])];
  const json = [lines, JSON.stringify(records), JSON.stringify({ rows: records, of: { n: 3 } }, null, 1)];
  return [
    exportTarget("csv", "a.csv", texts, ofCsv),
    exportTarget("gz", "a.csv.gz", packed, packedOr(ofCsv, (bytes) => gzipSync(bytes), ofBytes(packed, markTokens))),
    exportTarget("json", "a.json", json, ofText(json, jsonTokens)),
    exportTarget("gpx", "a.gpx", [gpx], ofText([gpx], xmlTokens)),
    exportTarget("parquet", "a.parquet", parquet, ofBytes(parquet, markTokens)),
    exportTarget("zip", "a.zip", [zip], packedOr(ofCsv, (bytes) => zipOf([["one.csv", csv], ["two.csv", bytes]]), ofBytes([zip], markTokens))),
    exportTarget("xlsx", "a.xlsx", [sheet, spreadsheetWith(sheetXml)], packedOr(ofText([sheetXml], [...xmlTokens, '<c r="A1" t="s">', '<row r="2">', "<v>", "</c>"]), (bytes) => spreadsheetWith(bytes), ofBytes([sheet], markTokens))),
    exportTarget("sqlite", "a.db", [database], ofBytes([database], [...markTokens, "create view", "select *"])),
  ];
}

/** A spreadsheet whose first sheet is this XML. */
function spreadsheetWith(sheetXml: string | Buffer): Buffer {
  const relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet";
  return zipOf([
    ["xl/workbook.xml", '<workbook xmlns:r="urn:r"><sheets><sheet name="Log" sheetId="1" r:id="rId1"/></sheets></workbook>'],
    ["xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="rId1" Type="${relation}" Target="worksheets/sheet1.xml"/></Relationships>`],
    ["xl/worksheets/sheet1.xml", sheetXml],
  ]);
}

function exportTarget(name: string, file: string, samples: Samples, damaged: Damage): Target {
  const siteText = name === "gpx" ? walkSite : siteOf(file);
  return {
    name,
    file,
    besides: { "site.yaml": siteText },
    samples,
    ...(name === "parquet" ? { isReadApart: true } : {}),
    damaged,
    take: async (folder, nth) => {
      const came = await readInto(await loadSite(join(folder, "site.yaml")), file);
      if (nth % COMMANDS_EVERY === 0) {
        await said(folder, ["check", "site.yaml", "--quiet"], [0, 2]);
        await said(folder, ["draft", file, "--quiet"], [0, 2]);
      }
      return came;
    },
    command: { words: ["check", "site.yaml"], may: [0, 2] },
  };
}

/** Runs a command in this process. Throws where it ends with another status, or says that we failed. */
export async function said(folder: string, words: readonly string[], may: readonly number[]): Promise<number> {
  const around = listening(folder);
  const status = await runProgram(words, around);
  if (!may.includes(status)) throw new Error(`${words.join(" ")} ended with ${status}: ${around.told().slice(0, 2_000)}`);
  const raw = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/.exec(around.told() + (words[0] === "draft" ? "" : around.said()));
  if (raw !== null) throw new Error(`${words.join(" ")} let ${JSON.stringify(raw[0])} through: ${JSON.stringify((around.told() + around.said()).slice(Math.max(0, raw.index - 60), raw.index + 20))}`);
  return status;
}

/** Reads every export in the file, and adds up its ledgers. Throws where they do not, or do not fit what another way of counting finds. */
async function readInto(site: Site, name: string): Promise<Came> {
  const problems: ProblemParts[] = [];
  let isRead = false;
  for (const source of site.sources) {
    const files = await findExports(source.files, site.folder, `source "${source.id}"`, problems);
    const signals = site.signals.filter((signal) => sourcesOf(signal).includes(source.id));
    for (const file of files) {
      const setAside: SetAsideRow[] = [];
      const { ledger, problems: own } = await readFile({ source, signals, file, known: new Map(), until: Infinity }, { onSetAside: (row) => setAside.push(row), onProgress: () => undefined });
      problems.push(...own);
      if (ledger === null) continue;
      isRead = true;
      const counted = ledger.reasons.reduce((sum, { count }) => sum + count, 0);
      const there = await rowsThere(await bytesOf(join(site.folder, name)), name, file.part?.name ?? null);
      if (ledger.read !== ledger.accepted + ledger.duplicate + ledger.setAside || counted !== ledger.setAside || setAside.length !== ledger.setAside || (there !== null && there !== ledger.read)) {
        throw new Error(`the ledger does not add up: ${JSON.stringify({ ...ledger, told: setAside.length, there })}`);
      }
    }
  }
  // What is wrong must be said in words that fit a line.
  if (problems.length > 0 && new InputError(problems).message.includes("\n    at ")) throw new Error("a problem holds a stack trace");
  return isRead ? "read" : "refused";
}
