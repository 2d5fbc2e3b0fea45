import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { auditFiles } from "../../src/commands/audit.js";
import { findingsSchema } from "../../src/result/findings.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

async function run(files: Readonly<Record<string, string | Uint8Array>>, words: readonly string[] = ["audit", "site.yaml"]): Promise<{ status: number; said: string; told: string; folder: string }> {
  const folder = await folderWith(files);
  const around = listening(folder);
  const status = await runProgram(words, around);
  return { status, said: around.said(), told: around.told(), folder };
}

describe("keyworthy audit", () => {
  it("writes a report and its data, private, and ends with 3 while a rule is not clear", async () => {
    const { status, said, folder } = await run({ "site.yaml": tinySite, "log.csv": tinyLog() });
    expect(status).toBe(3);
    const out = join(folder, "reports", "otter-cottage", "2026-06-01_2026-06-07");
    expect((await readdir(out)).toSorted()).toEqual([...auditFiles].toSorted());
    for (const name of auditFiles) expect((await stat(join(out, name))).mode & 0o777).toBe(0o600);
    expect(said).toContain("not proven yet  unlock on arrival");
    expect(said).toContain("report: reports/otter-cottage/2026-06-01_2026-06-07/report.html");
    const findings = findingsSchema.parse(JSON.parse(await readFile(join(out, "findings.json"), "utf8")));
    // Nobody outside the rule saw anything: seven firings, none verified.
    expect(findings.rules[0]?.firings).toEqual({ count: 7, right: 0, wrong: 0, unverified: 7 });
    expect(findings.ledger).toMatchObject([{ file: "log.csv", read: 74, accepted: 74, duplicate: 0, setAside: 0 }]);
  });

  it("ends with 0 when every rule is clear", async () => {
    // A diary without gaps over thirty days: with bounds that hold at every look, nothing less shows limits as wide as these.
    const limits = tinySite.replace("wrong_per_year: 0.5, missed_share: 0.1", "wrong_per_year: 250, missed_share: 0.6");
    const diary = ["subject,state,from,to", "ida,here,2026-06-01T00:00:00Z,2026-06-01T08:01:00Z"];
    const date = (day: number): string => new Date(Date.UTC(2026, 5, day)).toISOString().slice(0, 10);
    for (let day = 1; day <= 30; day += 1) diary.push(`ida,away,${date(day)}T08:01:00Z,${date(day)}T17:00:10Z`, `ida,here,${date(day)}T17:00:10Z,${date(day + 1)}T08:01:00Z`);
    const { status, said } = await run({ "site.yaml": `${limits}diary: { files: diary.csv }\n`, "log.csv": tinyLog(30), "diary.csv": `${diary.join("\n")}\n` });
    expect(said).toContain("clear to enable  unlock on arrival");
    expect(status).toBe(0);
  });

  it("says nothing with --quiet", async () => {
    const { said, told } = await run({ "site.yaml": tinySite, "log.csv": tinyLog() }, ["audit", "site.yaml", "--quiet"]);
    expect(said + told).toBe("");
  });

  it("writes into --out, and never over somebody's files", async () => {
    const files = { "site.yaml": tinySite, "log.csv": tinyLog(), "mine/thesis.txt": "ten years" };
    const { folder } = await run(files, ["audit", "site.yaml", "--out", "fresh"]);
    expect((await readdir(join(folder, "fresh"))).toSorted()).toEqual([...auditFiles].toSorted());
    const refused = await run(files, ["audit", "site.yaml", "--out", "mine"]);
    expect(refused.status).toBe(2);
    expect(refused.told).toMatch(/mine: The output folder holds files, and nothing says that Keyworthy wrote them; .* found thesis\.txt\./);
    expect(await readFile(join(refused.folder, "mine", "thesis.txt"), "utf8")).toBe("ten years");
  });

  it("never writes over another site's results: the second of two names that look alike as folders has a suffix", async () => {
    const { folder } = await run({ "site.yaml": tinySite, "log.csv": tinyLog(), "twin.yaml": tinySite.replace("Otter Cottage", "otter-cottage") });
    const around = listening(folder);
    for (const words of [["twin.yaml"], ["twin.yaml"], ["site.yaml"]]) expect(await runProgram(["audit", ...words, "--quiet"], around)).toBe(3);
    expect(await readdir(join(folder, "reports"))).toEqual(["otter-cottage", expect.stringMatching(/^otter-cottage-[0-9a-f]{6}$/)]);
    expect(await runProgram(["audit", "twin.yaml", "--out", "reports/otter-cottage/2026-06-01_2026-06-07"], around)).toBe(2);
    expect(around.told()).toMatch(/The output folder holds another result\. Expected the result of "otter-cottage"; found the result of "Otter Cottage" for 2026-06-01_2026-06-07\./);
  });

  it("never replaces a result made for sharing where only it could tell of which site it is", async () => {
    const { folder } = await run({ "site.yaml": tinySite, "log.csv": tinyLog() }, ["audit", "site.yaml", "--redact", "--out", "shared"]);
    const around = listening(folder);
    expect(await runProgram(["audit", "site.yaml", "--redact", "--out", "shared"], around)).toBe(2);
    expect(around.told()).toMatch(/shared: The output folder holds a result made for sharing, and that does not tell of which site and period it is\. .*To mend it: delete that folder yourself/);
    for (let i = 0; i < 2; i += 1) expect(await runProgram(["audit", "site.yaml", "--redact", "--quiet"], around)).toBe(3);
  });

  it("audits a month of the site's own time zone, cut to the readings, and says so", async () => {
    const { status, said, folder } = await run({ "site.yaml": tinySite, "log.csv": tinyLog() }, ["audit", "site.yaml", "--month", "2026-06"]);
    expect(status).toBe(3);
    expect(said).toContain("note: The readings end at 2026-06-07 18:03 +01:00: the time after that is not part of this audit.");
    const findings: unknown = JSON.parse(await readFile(join(folder, "reports/otter-cottage/2026-06/findings.json"), "utf8"));
    expect(findings).toHaveProperty("period", expect.objectContaining({ from: "2026-05-31T23:00:00.000Z", to: "2026-06-07T17:03:00.000Z", label: "2026-06" }));
  });

  it("says how many cells of used rows could not be read, for nothing is left out in silence", async () => {
    const wide = `site: Otter Cottage\ntimezone: Europe/London\nsources:\n  log: { files: log.csv, time: { column: at, written: iso }, each: { overhead: overhead, rail: rail } }\nbays: { bay: {} }\ndoors: { door: {} }\nsignals:\n  overhead: { on: bay, source: log, kind: distance, unit: m, present: [0.5, 1.2] }\n  rail: { on: door, source: log, kind: contact, open: [open], closed: [closed] }\n`;
    const rows = Array.from({ length: 9 }, (_, i) => `2026-06-0${i + 1}T00:00:00Z,${i % 3 === 0 ? -1 : 0.8},open\n`);
    const { said } = await run({ "site.yaml": wide, "log.csv": `at,overhead,rail\n${rows.join("")}` });
    expect(said).toContain("9 rows read, 0 set aside");
    expect(said).toContain("note: 3 cells could not be read, in rows that were otherwise used; set-aside.csv lists each with its reason.");
  });

  it("writes the same bytes twice", async () => {
    const [first, second] = [await run({ "site.yaml": tinySite, "log.csv": tinyLog() }), await run({ "site.yaml": tinySite, "log.csv": tinyLog() })];
    for (const name of auditFiles) {
      const path = join("reports/otter-cottage/2026-06-01_2026-06-07", name);
      expect(await readFile(join(first.folder, path))).toEqual(await readFile(join(second.folder, path)));
    }
  });
});

describe("a wrong command line", () => {
  it.each([
    [["audit"], /missing required argument 'site\.yaml'/],
    [["audit", "site.yaml", "--moth", "2026-06"], /unknown option '--moth'/],
    [["audit", "site.yaml", "--month", "June"], /--month June is not a month\. Expected a month such as 2026-10; found June/],
    [["audit", "site.yaml", "--from", "yesterday"], /--from yesterday is not a time\. Expected a day such as 2026-10-01/],
    [["audit", "site.yaml", "--from", "2026-06-05", "--to", "2026-06-02"], /The period ends before it begins/],
    [["audit", "site.yaml", "--month", "2025-01"], /There are no readings in the period asked for\. Expected readings between 2025-01-01 00:00 \+00:00 and 2025-02-01 00:00 \+00:00; found readings from 2026-06-01 01:00/],
    [["audit", "site.yaml", "--out", "log.csv/deeper/out"], /log\.csv\/deeper\/out: The output folder is a file|log\.csv\/deeper: No folder for the result can be made here\. Expected a place that you may write to; found ENOTDIR\. To mend it: name another folder with --out\./],
    [["audit", "site.yaml", "--out=~/audits"], /The path ~\/audits begins with ~, which the shell has left as it is\. Expected a path that is written out; found ~\/audits\. To mend it: write \$HOME for ~/],
    [["unlock"], /unknown command 'unlock'/],
  ])("%j ends with 2 and says why", async (words, message) => {
    const { status, told, folder } = await run({ "site.yaml": tinySite, "log.csv": tinyLog() }, words);
    expect(told).toMatch(message);
    expect(told).not.toMatch(/\n\s+at /);
    expect(status).toBe(2);
    expect(await readdir(folder)).toEqual(["log.csv", "site.yaml"]);
  });

  it("shows the help and the version with status 0", async () => {
    const help = await run({}, ["--help"]);
    expect(help.status).toBe(0);
    expect(help.said).toContain("Which rules can you switch on?");
    expect((await run({}, ["--version"])).said).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});

describe("bad input ends with 2, a message that says where and how to mend it, and nothing written", () => {
  const megabyte = `at,what,says\n2026-06-01T00:00:00Z,rail,${"x".repeat(1_000_000)}\n`;
  it.each<[string, Record<string, string | Uint8Array>, RegExp]>([
    ["a missing site file", {}, /site\.yaml/],
    ["a missing export", { "site.yaml": tinySite }, /log\.csv: .*does not exist/i],
    ["an empty export", { "site.yaml": tinySite, "log.csv": "" }, /log\.csv.*empty/i],
    ["an export without a header", { "site.yaml": tinySite, "log.csv": "2026-06-01T00:00:00Z,rail,open\n2026-06-01T00:01:00Z,rail,closed\n" }, /log\.csv:1: The file has no header row\. Expected a first row with the column names "at", "what", "says"/],
    ["a wrong column", { "site.yaml": tinySite, "log.csv": "when,what,says\n2026-06-01T00:00:00Z,rail,open\n" }, /log\.csv:1.*"?at"?.*when/s],
    ["a binary export", { "site.yaml": tinySite, "log.csv": new Uint8Array([0, 1, 2, 255, 254, 0, 0, 7]) }, /log\.csv.*(binary|text)/i],
    ["nothing but thousands of rows set aside", { "site.yaml": tinySite, "log.csv": `at,what,says\n${"2026-06-01T00:00:00Z,overhead,-1\n".repeat(5000)}` }, /The exports hold no readable reading/],
    ["nothing but a field of a million characters", { "site.yaml": tinySite, "log.csv": megabyte }, /The exports hold no readable reading/],
    ["an unknown time zone", { "site.yaml": tinySite.replace("Europe/London", "Europe/Lodnon"), "log.csv": tinyLog() }, /site\.yaml:2:\d+: .*time zone.*Europe\/Lodnon/i],
    ["a YAML syntax error", { "site.yaml": tinySite.replace("doors: { door: {} }", "doors: { door: {} "), "log.csv": tinyLog() }, /site\.yaml:\d+:\d+: /],
  ])("%s", async (_, files, message) => {
    const { status, told, folder } = await run(files);
    expect(told).toMatch(message);
    expect(told).not.toMatch(/\n\s+at /);
    expect(status).toBe(2);
    expect((await readdir(folder)).toSorted()).toEqual(Object.keys(files).toSorted());
  });

  it("a field of a million characters costs that row alone", async () => {
    const { status, folder } = await run({ "site.yaml": tinySite, "log.csv": `${tinyLog()}2026-06-07T18:00:00Z,rail,${"x".repeat(1_000_000)}\n2026-06-07T19:00:00Z,rail,closed\n` });
    expect(status).toBe(3);
    const setAside = await readFile(join(folder, "reports/otter-cottage/2026-06-01_2026-06-07/set-aside.csv"), "utf8");
    expect(setAside).toMatch(/^file,line,reason,detail,raw\r\nlog\.csv,76,field too long,/);
    expect(setAside.length).toBeLessThan(3_000);
  });
});

describe("hostile names and cells", () => {
  const hostile = `<script>alert("x")</script>`;
  const site = tinySite.replaceAll("overhead:", `'${hostile}':`).replaceAll("signal: overhead", `signal: '${hostile}'`);

  it("a script in a signal's name is shown, not run", async () => {
    const { status, folder } = await run({ "site.yaml": site, "log.csv": tinyLog() });
    expect(status).toBe(3);
    const html = await readFile(join(folder, "reports/otter-cottage/2026-06-01_2026-06-07/report.html"), "utf8");
    expect(html).toContain("&lt;script>alert(&quot;x&quot;)&lt;/script>");
    // The page's one script is its own, and the content policy lets in no other.
    expect(html.match(/<script/gi)).toHaveLength(1);
    expect(html).not.toMatch(/<script[^>]*>\s*alert/i);
  });

  it("cells that a spreadsheet would run are made inert in every CSV file", async () => {
    const log = `${tinyLog()}2026-06-07T20:00:00Z,=HYPERLINK("http://a"),1\n`;
    const formula = tinySite.replaceAll("wall:", "'=1+1':").replaceAll("signal: wall", "signal: '=1+1'");
    const { folder } = await run({ "site.yaml": formula, "log.csv": log });
    const out = join(folder, "reports/otter-cottage/2026-06-01_2026-06-07");
    const texts = await Promise.all(auditFiles.filter((name) => name.endsWith(".csv")).map((name) => readFile(join(out, name), "utf8")));
    expect(texts.join("")).toContain("'=1+1");
    for (const text of texts) expect(text).not.toMatch(/(^|,|\r\n)"?[=@]/);
  });
});

describe("keyworthy check", () => {
  it("says what was read and what was set aside, and scores nothing", async () => {
    const { status, said, folder } = await run({ "site.yaml": tinySite, "log.csv": `${tinyLog()}soon,rail,open\n2026-06-07T20:00:00Z,loft,1\n` }, ["check", "site.yaml"]);
    expect(status).toBe(0);
    expect(said).toContain("log.csv: 76 rows read = 74 accepted + 0 duplicate + 2 set aside");
    expect(said).toMatch(/log\.csv:76: time stamp not readable/);
    expect(said).toMatch(/log\.csv:77: channel not in the site file/);
    expect(await readdir(folder)).toEqual(["log.csv", "site.yaml"]);
  });

  it("says from when to when the readings are, and which come from a clock that was not set", async () => {
    const { said } = await run({ "site.yaml": tinySite, "log.csv": `${tinyLog()}1970-01-01T00:00:12Z,rail,open\n` }, ["check", "site.yaml"]);
    expect(said).toContain("  readings from 2026-06-01 01:00 +01:00 to 2026-06-07 18:03 +01:00\n  One reading of 1970-01-01 01:00 +01:00 lies more than 90 days from the others: was a clock not set?\n");
  });

  it("counts the cells of used rows that could not be read", async () => {
    const wide = `site: Otter Cottage\ntimezone: Europe/London\nsources:\n  log: { files: log.csv, time: { column: at, written: iso }, each: { rail: rail, hinge: hinge } }\ndoors: { door: {} }\nsignals:\n  rail: { on: door, source: log, kind: contact, open: [open], closed: [closed] }\n  hinge: { on: door, source: log, kind: contact, open: [ajar], closed: [shut] }\n`;
    const rows = Array.from({ length: 9 }, (_, i) => `2026-06-0${i + 1}T00:00:00Z,open,open\n`);
    const { said } = await run({ "site.yaml": wide, "log.csv": `at,rail,hinge\n${rows.join("")}` }, ["check", "site.yaml"]);
    expect(said).toContain("  cells not readable, in rows otherwise used: 9\n    log.csv:2: word not in the site file:");
    expect(said).toContain("  hinge has no reading at all");
  });

  it("tells of a file that stops in the middle, and of bad rows beside a file that cannot be read", async () => {
    const cut = await run({ "site.yaml": tinySite, "log.csv": `${tinyLog()}2026-06-07T20:0` }, ["check", "site.yaml"]);
    expect(cut.status).toBe(0);
    expect(cut.said).toContain("log.csv stops in the middle: what came after is missing");
    expect(cut.said).toMatch(/log\.csv:76: cut off: the file stops here, after 1 of 3 columns/);
    const both = await run({ "site.yaml": tinySite.replace("files: log.csv", "files: [log.csv, gone.csv]"), "log.csv": `${tinyLog()}soon,rail,open\n` }, ["check", "site.yaml"]);
    expect(both.status).toBe(2);
    expect(both.told).toMatch(/gone\.csv: The file does not exist/);
    expect(both.said).toMatch(/log\.csv:76: time stamp not readable/);
  });

  it("tells every problem of site file, exports and diary", async () => {
    const broken = tinySite.replace("present: [3.7, 4.7]", "present: [4.7, 3.7]").replace("unit: in", "unit: inch");
    const { status, told } = await run({ "site.yaml": broken, "log.csv": tinyLog() }, ["check", "site.yaml"]);
    expect(status).toBe(2);
    expect(told.trimEnd().split("\n").length).toBeGreaterThanOrEqual(2);
  });
});
