import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

/* A vehicle left standing for a month, an hour of the night, a sensor that never spoke: all of them are ordinary. */

async function audited(files: Readonly<Record<string, string>>, more: readonly string[] = []): Promise<{ status: number; findings: Findings }> {
  const folder = await folderWith(files);
  const around = listening(folder);
  const status = await runProgram(["audit", "site.yaml", "--out", "out", "--quiet", ...more], around);
  expect(around.told()).toBe("");
  return { status, findings: findingsSchema.parse(JSON.parse(await readFile(join(folder, "out", "findings.json"), "utf8"))) };
}

/** The log with only those rows of a channel that `keeps` wants; the other channels as they were. */
function logWhere(keeps: (channel: string, firstRow: boolean) => boolean): string {
  const seen = new Set<string>();
  const [head, ...rows] = tinyLog().trimEnd().split("\n");
  const kept = rows.filter((row) => {
    const channel = row.split(",")[1]!;
    const firstRow = !seen.has(channel);
    seen.add(channel);
    return keeps(channel, firstRow);
  });
  return `${[head, ...kept].join("\n")}\n`;
}

const never = (...still: string[]): string => logWhere((channel, firstRow) => firstRow || !still.includes(channel));
const without = (...gone: string[]): string => logWhere((channel) => !gone.includes(channel));
const referenceOf = (findings: Findings, subject: string) => findings.references.find((one) => one.subject === subject);

describe("an audit in which something never changes ends with a result", () => {
  it.each<[string, string, string]>([
    ["a bay whose vehicle stands there throughout", never("overhead", "wall"), "bay"],
    ["a bay and a door that never change", never("overhead", "wall", "rail"), "bay"],
    ["everything but a single phone", never("overhead", "wall", "rail"), "door"],
  ])("%s", async (_, log, subject) => {
    const { status, findings } = await audited({ "site.yaml": tinySite, "log.csv": log });
    expect(status).toBe(3);
    // One stretch without a change, so nothing can be said of what moves when it changes.
    expect(referenceOf(findings, subject)).toMatchObject({ segments: 1, movements: [] });
    expect(findings.rules[0]?.firings.count).toBe(0);
  });

  it.each<[string, string]>([
    ["a person whose phone never leaves", never("phone")],
    ["a bay without a single reading", without("overhead", "wall")],
    ["a person without a single reading", without("phone")],
    ["one signal that reads at all", without("overhead", "wall", "phone")],
  ])("%s", async (_, log) => {
    expect((await audited({ "site.yaml": tinySite, "log.csv": log })).status).toBe(3);
  });

  it.each<[string, string, string]>([
    ["some hours of the night", "2026-06-03T01:00", "2026-06-03T06:30"],
    ["five quiet minutes", "2026-06-03T12:00", "2026-06-03T12:05"],
    ["five minutes of an arrival", "2026-06-03T17:59", "2026-06-03T18:04"],
    ["one second", "2026-06-03T12:00:00", "2026-06-03T12:00:01"],
  ])("a period of %s", async (_, from, to) => {
    const { status, findings } = await audited({ "site.yaml": tinySite, "log.csv": tinyLog() }, ["--from", from, "--to", to]);
    expect(status).toBe(3);
    expect(findings.period.days * 86_400_000).toBeCloseTo(Date.parse(`${to.padEnd(19, ":00")}Z`) - Date.parse(`${from.padEnd(19, ":00")}Z`), 0);
  });

  it("a site of one bay with two meters, one signal each way, and no rules", async () => {
    const one = tinySite.slice(0, tinySite.indexOf("rules:")).replace("doors: { door: {} }\npeople: { ida: {} }\n", "").replace(/ {2}(rail|phone): .*\n/g, "");
    expect((await audited({ "site.yaml": one, "log.csv": `at,what,says\n2026-06-01T00:00:00Z,overhead,4.2\n2026-06-01T00:00:00Z,wall,20\n2026-06-28T00:00:00Z,overhead,4.2\n` })).status).toBe(0);
    const single = one.replace(/ {2}wall: .*\n/, "");
    expect((await audited({ "site.yaml": single, "log.csv": `at,what,says\n2026-06-01T00:00:00Z,overhead,4.2\n2026-06-28T00:00:00Z,overhead,4.2\n` })).status).toBe(0);
  });

  it("a diary entry that covers everything, over signals that never change", async () => {
    const diary = "subject,state,from,to\nida,here,2026-05-01T00:00:00Z,2026-07-01T00:00:00Z\nbay,occupied,2026-05-01T00:00:00Z,2026-07-01T00:00:00Z\ndoor,closed,2026-05-01T00:00:00Z,2026-07-01T00:00:00Z\n";
    const site = `${tinySite}diary: { files: diary.csv }\n`;
    for (const log of [tinyLog(), `${never("overhead", "wall", "rail", "phone")}2026-06-20T00:00:00Z,rail,closed\n`]) {
      expect((await audited({ "site.yaml": site, "log.csv": log, "diary.csv": diary })).status).toBe(3);
    }
  });
});
