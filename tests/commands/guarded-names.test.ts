import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { withRows } from "../../src/commands/confirm/diary-text.js";
import { keptAnswers, withKeptAnswers } from "../../src/commands/kept-answers.js";
import { runProgram } from "../../src/commands/program.js";
import { csvText } from "../../src/ground/csv-text.js";
import { readDiary } from "../../src/intake/diary.js";
import { readExports } from "../../src/intake/read-exports.js";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { loadSite } from "../../src/site/load.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

/** A site whose bay, person and channel a spreadsheet would take for formulas. */
const site = tinySite
  .replace("bays: { bay: {} }", 'bays: { "-bay": {} }')
  .replaceAll("on: bay", 'on: "-bay"')
  .replace("people: { ida: {} }", 'people: { "=ida;@x": {} }')
  .replaceAll("on: ida", 'on: "=ida;@x"')
  .replace("channel: overhead", 'channel: "@overhead"');
const times = { from: Date.parse("2026-06-02T12:00:00Z"), to: Date.parse("2026-06-02T13:00:00Z") };

const rowsOf = (text: string, delimiter: string): string[][] => parse(text, { delimiter, relax_quotes: true, relax_column_count: true });

describe("names that a spreadsheet would run", () => {
  it("come back from the diary that `confirm` writes", async () => {
    const rows = [{ subject: "-bay", state: "empty", ...times }, { subject: "=ida;@x", state: "away", ...times }];
    const diary = withRows(null, rows, { file: "diary.csv", timeZone: "Europe/London", note: "answered" });
    expect(diary.toString()).toContain("\r\n'-bay,empty,");
    expect(diary.toString()).toContain("\r\n'=ida;'@x,away,");
    const folder = await folderWith({ "site.yaml": `${site}diary: { files: diary.csv }\n`, "log.csv": tinyLog(), "diary.csv": diary });
    expect((await readDiary(await loadSite(join(folder, "site.yaml")))).entries.map(({ subject, state }) => [subject, state])).toEqual([["-bay", 0], ["=ida;@x", 0]]);
  });

  it("come back from a to-confirm.csv that was filled in and carried along twice, and nothing is asked twice", async () => {
    const columns = ["subject", "state", "from", "to", "words", "question"];
    const asked = csvText(columns, [["=ida;@x", "", "a", "b", "here or away", "=Was Ida there?"], ["-bay", "", "c", "d", "occupied or empty", "@What of the bay?"]]);
    const filled = asked.replace("'=ida;'@x,,", "'=ida;'@x,here,");
    const once = withKeptAnswers(asked, await keptAnswers(await folderWith({ "to-confirm.csv": filled })));
    expect(once).toBe(filled);
    expect(withKeptAnswers(asked, await keptAnswers(await folderWith({ "to-confirm.csv": once })))).toBe(filled);
  });

  it("are the same sensor in an export with the apostrophes of another program, in one without, and in a draft", async () => {
    const folder = await folderWith({ "site.yaml": site.replace("files: log.csv", "files: [log.csv, more.csv]"), "log.csv": tinyLog(3).replaceAll(",overhead,", ",@overhead,"), "more.csv": tinyLog(7).replaceAll(",overhead,", ",'@overhead,") });
    const { ledger } = await readExports(await loadSite(join(folder, "site.yaml")), { onSetAside: () => undefined });
    expect(ledger.map(({ accepted, duplicate, setAside }) => [accepted, duplicate, setAside])).toEqual([[34, 0, 0], [40, 34, 0]]);
    expect(await runProgram(["draft", "more.csv", "--out", "drafted.yaml"], listening(folder))).toBe(0);
    expect(await readFile(join(folder, "drafted.yaml"), "utf8")).toContain('channel: "@overhead"');
  });

  it("come back from an invented export, its words too", async () => {
    const scenario = `scenario: Small
seed: 3
timezone: Europe/London
period: { from: 2026-10-20, to: 2026-10-22 }
doors: { shed: {} }
routine: [ { name: garden, through: shed, days: daily, opens: "10:00", for: 5min, jitter: 30min } ]
sources:
  log: { files: log.csv, delimiter: ";", time: { column: "@t", written: epoch-s }, signal: "=id", value: "-v" }
sensors:
  contact: { on: shed, source: log, channel: "-c1;=x", kind: contact, every: 30min, reads: { on: "=1", off: "+0" } }
`;
    const { files } = runScenario(parseScenario(scenario, "small.yaml"));
    const log = files.get("log.csv")!;
    expect(log).toMatch(/^'@t;'=id;'-v\n\d+;"'-c1;'=x";'\+0\n/);
    const folder = await folderWith(Object.fromEntries(files));
    const { ledger } = await readExports(await loadSite(join(folder, "site.yaml")), { onSetAside: () => undefined });
    expect(ledger.map(({ read, accepted }) => [read, accepted])).toEqual([[log.split("\n").length - 2, log.split("\n").length - 2]]);
  });

  it("begin no cell of any file that an audit writes", async () => {
    const folder = await folderWith({ "site.yaml": site.replace("unlock on arrival", '"=unlock"').replace("files: log.csv", 'files: "*.csv"'), "=log.csv": `${tinyLog().replaceAll(",overhead,", ",@overhead,")}2026-06-07T20:00:00Z,=ghost;@x,+1\n` });
    expect(await runProgram(["audit", "site.yaml", "--month", "2026-06", "--out", "o", "--quiet"], listening(folder))).toBe(3);
    const written = await Promise.all(["signals.csv", "episodes.csv", "firings.csv", "to-confirm.csv", "set-aside.csv"].map((name) => readFile(join(folder, "o", name), "utf8")));
    const cells = written.flatMap((text) => [",", ";"].flatMap((delimiter) => rowsOf(text, delimiter).flat()));
    expect(cells.filter((cell) => /^ *(?:[=+@\t]|-(?!\d|$))/.test(cell))).toEqual([]);
    expect(written.join()).toContain("=ghost;'@x");
  });
});
