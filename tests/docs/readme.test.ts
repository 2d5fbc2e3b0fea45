import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { auditFiles } from "../../src/commands/audit-files.js";
import { makePlace, outcomes, runPage, type Place, type Ran } from "./place.js";
import { pageText } from "./page-commands.js";
import { smallExports, smallScenario } from "./small-household.js";

/* The README as somebody with two exports and no site file would follow it. */
const audit = "npx keyworthy audit site.yaml --month 2026-10";
let place: Place;
let ran: Map<string, Ran>;
const said = (command: string): string => ran.get(command)!.said;
const text = (path: string): Promise<string> => readFile(join(place.folder, path), "utf8");

beforeAll(async () => {
  place = await makePlace("home");
  await place.write(smallExports());
  await place.write({ "scenario.yaml": smallScenario });
  ran = await runPage("README.md", place, {
    // Between draft and check one fills in what was left open, and takes the # away from the rules one means.
    "npx keyworthy check site.yaml": async () => {
      const drafted = await text("site.yaml");
      expect(drafted).toContain("# FILL IN: in which time zone");
      expect(drafted).toMatch(/^# rules:$/m);
      await place.write({ "site.yaml": drafted.replace(/^timezone: .*$/m, "timezone: Europe/London").replace(/^# (?=(?:rules|limits):| {2})/gm, "") });
    },
  });
});
afterAll(() => place.remove());

it("gives commands that follow one another from exports to an explanation", () => {
  expect(outcomes(ran)).toEqual([
    "npx keyworthy draft exports --out site.yaml: 0",
    "npx keyworthy check site.yaml: 0",
    `${audit}: 3`,
    "npx keyworthy confirm site.yaml --month 2026-10: 0",
    "npx keyworthy explain reports/home/2026-10/findings.json --at 2026-10-14T19:48: 0",
    "npx keyworthy propose site.yaml: 3",
    "npx keyworthy simulate scenario.yaml --out folder: 0",
  ]);
});

it("drafts columns, clocks, kinds and bands, each with its evidence", async () => {
  const drafted = await text("site.yaml");
  expect(drafted).toMatch(/# 9,995 of 9,995 stamps read as iso\n.*\n {4}time: \{ column: stamp, written: iso \}/);
  expect(drafted).toMatch(/# 3,096 readings lie about 4\.2 and .*\n {4}present: \[/);
  expect(said("npx keyworthy draft exports --out site.yaml")).toContain("1 thing is left open: search for FILL IN.");
});

it("checks every file, and finds nothing wrong with what draft wrote", () => {
  expect(said("npx keyworthy check site.yaml")).toContain("exports/board.csv: 9995 rows read = 9995 accepted + 0 duplicate + 0 set aside");
  expect(said("npx keyworthy check site.yaml")).toContain("exports/phones.csv: 1679 rows read = 1679 accepted");
});

it("audits into the folder of the site and the month", async () => {
  expect(said(audit)).toContain("report: reports/home/2026-10/report.html");
  expect(await place.list("reports/home/2026-10")).toEqual([...auditFiles].toSorted());
  expect(await text("reports/home/2026-10/to-confirm.csv")).toMatch(/^subject,state,from,to/);
});

it("compares further rules, and makes a copy to show an installer, with the two options it names", async () => {
  expect(pageText("README.md")).toMatch(/`--try other-rules\.yaml` compares further rules; `--redact` makes a copy/);
  await place.write({ "other-rules.yaml": "rules: [ { name: the phone alone, act: unlock, when: { signal: phone-mira, turned: here, within: 1min } } ]\n" });
  expect((await place.run(`${audit} --try other-rules.yaml --redact`)).status).toBe(3);
  const redacted = await text("reports/home/redacted/findings.json");
  expect((JSON.parse(redacted) as { tried: unknown[] }).tried).toHaveLength(1);
  expect(redacted).not.toMatch(/mira|overhead|Europe\/London/);
});

it("explains what every signal said, and why each rule did or did not fire", () => {
  const explained = said("npx keyworthy explain reports/home/2026-10/findings.json --at 2026-10-14T19:48");
  for (const signal of ["overhead", "wall", "door-rail", "phone-mira"]) expect(explained).toMatch(new RegExp(`^ {2}${signal} +(?:occupied|empty|open|closed|here|away) +since `, "m"));
  expect(explained).toMatch(/^unlock on arrival: did not fire: its condition was false since 17:09:35\.$/m);
  expect(explained).toMatch(/^lock when all have left: its condition was true since 19:13:25, and at 19:13:25 it would have locked/m);
});

it("invents a site that can be audited", async () => {
  expect(await place.list("folder")).toEqual([".written.json", "diary-kept.csv", "diary-true.csv", "exports", "site.yaml"]);
  expect((await place.run("keyworthy check folder/site.yaml")).status).toBe(0);
});
