import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { explain } from "../../src/result/explain.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

let folder: string;
let findings: Findings;
beforeAll(async () => {
  folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
  expect(await runProgram(["audit", "site.yaml", "--out", "whole", "--quiet"], listening(folder))).toBe(3);
  findings = findingsSchema.parse(JSON.parse(await readFile(join(folder, "whole", "findings.json"), "utf8")));
});

async function explained(at: string, ...more: string[]): Promise<{ status: number; said: string; told: string }> {
  const around = listening(folder);
  const status = await runProgram(["explain", "whole/findings.json", "--at", at, ...more], around);
  return { status, said: around.said(), told: around.told() };
}

describe("keyworthy explain", () => {
  it("says at the moment of a firing what the condition depended on, and what the outcome was", async () => {
    const { status, said } = await explained("2026-06-03T18:02");
    expect(status).toBe(0);
    expect(said).toContain("Otter Cottage, Wed 3 Jun 2026, 18:02:00 (Europe/London), and from 17:52:00 to 18:12:00 around it");
    expect(said).toMatch(/ {2}rail {6}open {6}since 18:01:00; then closed 18:03:00\n/);
    expect(said).toContain("unlock on arrival: its condition was true since 18:01:40, and at 18:01:40 it would have unlocked (unverified).");
    expect(said).toMatch(/It depended on:\n {4}true {5}overhead turned occupied within 2 min, since 18:01:40\n {4}true {5}wall is occupied, since 18:01:30\n {4}true {5}rail is open/);
    expect(said).toContain("Neither the diary nor two sensors that the rule does not use can tell.");
  });

  it("says a minute earlier what stood in the way, and that it would fire later", async () => {
    const { said } = await explained("2026-06-03T18:01:35");
    expect(said).toContain("unlock on arrival: did not fire: its condition was false since");
    expect(said).toMatch(/In the way:\n {4}false {4}overhead turned occupied within 2 min/);
    expect(said).toContain("All its parts:");
    expect(said).toContain("It would have unlocked at 18:01:40 (unverified).");
  });

  it("reads local times and times with an offset alike", async () => {
    expect((await explained("2026-06-03T17:02:00Z")).said).toBe((await explained("2026-06-03 18:02:00")).said);
  });

  it("widens the window when asked", async () => {
    expect((await explained("2026-06-03T12:00")).said).not.toContain("then");
    expect((await explained("2026-06-03T12:00", "--around", "7h")).said).toMatch(/phone {5}away {6}since 09:03:00; then here 18:00:00/);
  });

  it("agrees with the rule's own firings at every one of them", () => {
    for (const firing of findings.rules[0]?.firingList ?? []) {
      const at = firing.at;
      const [rule] = explain(findings, at, 0).rules;
      expect(rule).toMatchObject({ state: 1, since: at, firing: { id: firing.id } });
      expect(explain(findings, at - 1, 0).rules[0]?.state).not.toBe(1);
    }
  });

  it("tells of a near miss what stood in the way, and draws on the same lanes as its diagram", async () => {
    const site = tinySite.replace(/when: \{ all: .*\n/, "when: { all: [ { signal: wall, is: occupied }, { signal: rail, is: open }, { signal: phone, turned: here, within: 10min } ] }\n");
    const open = "2026-06-03T01:00:00Z,rail,open\n2026-06-03T01:05:00Z,rail,closed\n";
    const near = await folderWith({ "site.yaml": site, "log.csv": tinyLog() + open });
    await runProgram(["audit", "site.yaml", "--out", "whole", "--quiet"], listening(near));
    const around = listening(near);
    expect(await runProgram(["explain", "whole/findings.json", "--at", "2026-06-03T02:02"], around), around.told()).toBe(0);
    expect(around.said()).toMatch(/In the way:\n {4}false {4}phone turned here within 10 min/);
    expect(around.said()).toContain("  From 02:00:00 to 02:05:00 one sensor alone kept it from acting wrongly (not confirmed): phone. It would have fired if it had read: phone turned here within 10 min.");
    const { rules } = findingsSchema.parse(JSON.parse(await readFile(join(near, "whole", "findings.json"), "utf8")));
    const miss = rules[0]!.margin.nearMisses.find(({ from }) => from === Date.parse("2026-06-03T01:00:00.000Z"));
    expect(miss?.excerpt?.lanes.find(({ label }) => label === "rail")?.steps).toEqual([[Date.parse("2026-06-03T00:45:00.000Z"), "off"], [Date.parse("2026-06-03T01:00:00.000Z"), "on"], [Date.parse("2026-06-03T01:05:00.000Z"), "off"]]);
    const later = listening(near);
    await runProgram(["explain", "whole/findings.json", "--at", "2026-06-03T04:00"], later);
    expect(later.said()).not.toContain("one signal away");
  });

  it.each([
    ["yesterday", /--at yesterday is not a time\. Expected a time of the site such as 2026-10-01T17:32/],
    ["2026-07-01T12:00", /--at 2026-07-01T12:00 is outside the period of these findings\. Expected a time from 2026-06-01T00:00:00\.000Z to/],
  ])("refuses --at %s and says why", async (at, message) => {
    const { status, told } = await explained(at);
    expect(told).toMatch(message);
    expect(status).toBe(2);
  });

  it("refuses a length of time that is none", async () => {
    expect((await explained("2026-06-03T12:00", "--around", "soon")).told).toMatch(/--around soon is not a length of time\. Expected a length such as 10min/);
  });

  it.each([
    ["no such file", "missing.json", null, /missing\.json: The findings cannot be read/],
    ["no JSON", "broken.json", "{", /broken\.json: The file is not JSON/],
    ["something else", "other.json", "{}", /other\.json: The file holds no findings of this version/],
  ])("says so of %s", async (_, name, content, message) => {
    if (content !== null) await writeFile(join(folder, name), content);
    const around = listening(folder);
    expect(await runProgram(["explain", name, "--at", "2026-06-03T12:00"], around)).toBe(2);
    expect(around.told()).toMatch(message);
  });

  it("has nothing to go by in a redacted result, and says so", async () => {
    await runProgram(["audit", "site.yaml", "--redact", "--out", "shared", "--quiet"], listening(folder));
    const around = listening(folder);
    expect(await runProgram(["explain", "shared/findings.json", "--at", "2001-01-03T12:00"], around)).toBe(2);
    expect(around.told()).toMatch(/These findings hold no histories: they were made for sharing/);
  });
});
