import { cp, mkdtemp, readFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { drawAll, type Drawings } from "../../src/report/drawings.js";
import { localClock } from "../../src/report/local-time.js";
import { listening } from "../commands/tiny-site.js";
import { commandsOf } from "./page-commands.js";
import { standalone } from "./standalone.js";

/*
 * The worked month is run as it is told. To draw its pictures anew: `npx vitest run tests/docs/worked-month.test.ts -u`,
 * and to tell it anew: change docs/worked-month.md until this is silent.
 */
let page: string;
let findings: Findings;
let later: Findings;
let drawings: Drawings;
const outcomes = new Map<string, { status: number; said: string; told: string }>();

beforeAll(async () => {
  page = await readFile("docs/worked-month.md", "utf8");
  const folder = await mkdtemp(join(tmpdir(), "worked-month-"));
  const results = join(folder, "reports/heron-lane/2026-10/findings.json");
  await cp("sample-data", join(folder, "sample-data"), { recursive: true });
  for (const command of commandsOf(page).map(({ text }) => text.replace(/^keyworthy /, ""))) {
    const around = listening(folder);
    // The last command writes to the same place as the second: what that said is read before.
    if (command.includes("--earlier")) findings = findingsSchema.parse(JSON.parse(await readFile(results, "utf8")));
    outcomes.set(command, { status: await runProgram(command.split(" "), around), said: around.said(), told: around.told() });
  }
  later = findingsSchema.parse(JSON.parse(await readFile(results, "utf8")));
  drawings = await drawAll(findings, localClock(findings.site.timeZone));
});

describe("the worked month", () => {
  it("gives commands that do what it says", () => {
    expect([...outcomes].map(([command, { status }]) => `${command}: ${status}`)).toEqual([
      "check sample-data/household/site.yaml: 0",
      "audit sample-data/household/site.yaml --month 2026-10: 3",
      "explain reports/heron-lane/2026-10/findings.json --at 2026-10-16T17:15:40: 0",
      "audit sample-data/household/site.yaml --month 2026-10 --redact: 3",
      "audit sample-data/household/site.yaml --month 2026-10 --earlier sample-data/household-earlier: 3",
    ]);
  });

  it("quotes every verdict to the word", () => {
    expect(findings.rules.length).toBe(5);
    for (const { name, sentence } of findings.rules) expect(page).toContain(`| ${name} | ${sentence} |`);
    expect(page).toContain(`\n> ${later.rules[4]?.sentence}\n`);
  });

  it("tells rightly what kept the rule from acting on the 16th", () => {
    const said = outcomes.get("explain reports/heron-lane/2026-10/findings.json --at 2026-10-16T17:15:40")?.said ?? "";
    expect(said).toMatch(/bay-1-overhead +occupied +since 17:15:28/);
    expect(said).toMatch(/bay-1-wall +empty/);
    expect(said).toMatch(/unlock on arrival: did not fire[^\n]*\n {2}An unlock was needed at 17:15:06 \(missed\)\. bay-1-wall read 118 in, which counts as empty, from 17:15:06 to 10:16:07/);
  });

  it.each([
    ["wrong-unlock", () => drawings.firings[2]?.find(({ firing }) => firing.outcome === "wrong")?.drawing],
    ["agreement", () => drawings.agreement],
    ["lags", () => drawings.lags],
  ])("shows the picture %s as the tool draws it", async (name, drawing) => {
    expect(page).toContain(`(pictures/${name}.svg)`);
    await expect(standalone(drawing()?.wide ?? "no drawing")).toMatchFileSnapshot(`../../docs/pictures/${name}.svg`);
  });

  it("does not carry a picture it does not show", () => {
    expect([...page.matchAll(/\(pictures\/([^)]+)\.svg\)/g)].map((match) => match[1])).toEqual(["wrong-unlock", "agreement", "lags"]);
  });
});
