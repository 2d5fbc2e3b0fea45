import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { stepsOf } from "../../src/result/history-steps.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { folderWith, listening } from "./tiny-site.js";

/* A house whose movement sensor in the hall is entered as a flag on Ida: "on" for two minutes when she passes, "off" else. */

const site = `site: Otter Cottage
timezone: Etc/UTC
sources:
  log: { files: log.csv, time: { column: at, written: iso }, signal: what, value: says }
bays: { bay: {} }
people: { ida: {} }
signals:
  mat: { on: bay, source: log, channel: mat, kind: flag, occupied: [y], empty: [n] }
  hall: { on: ida, source: log, channel: hall, kind: flag, here: ["on"], away: ["off"] }
rules:
  - { name: lock when nobody is here, act: lock, when: { all: [ { every: bays, is: empty }, { every: people, is: away, held: 5min } ] } }
  - { name: unlock for the vehicle, act: unlock, when: { signal: mat, turned: occupied, within: 1min } }
limits:
  lock: { wrong_per_year: 300, missed_share: 0.5, within: 15min }
  unlock: { wrong_per_year: 300, missed_share: 0.5, within: 15min }
`;

/** She drives out at 8 and comes home at 17; while she is awake at home she passes through the hall four times an hour. */
function log(hall: (day: number) => readonly [string, string][]): string {
  const rows = ["at,what,says", "2026-06-01T00:00:00Z,mat,y", "2026-06-01T00:00:00Z,hall,off"];
  for (let day = 1; day <= 28; day += 1) {
    const at = (time: string): string => `2026-06-${String(day).padStart(2, "0")}T${time}Z`;
    rows.push(`${at("08:00:00")},mat,n`, `${at("17:00:00")},mat,y`, ...hall(day).map(([time, says]) => `${at(time)},hall,${says}`));
  }
  return `${rows.join("\n")}\n`;
}

const passing = (): [string, string][] => ["07", "17", "18", "19", "20", "21"].flatMap((hour) => ["04", "19", "34", "49"].flatMap((minute): [string, string][] => [[`${hour}:${minute}:00`, "on"], [`${hour}:${String(Number(minute) + 2).padStart(2, "0")}:00`, "off"]]));

async function run(words: readonly string[], text: string): Promise<{ said: string; told: string; folder: string }> {
  const folder = await folderWith({ "site.yaml": site, "log.csv": text });
  const around = listening(folder);
  await runProgram(words, around);
  return { said: around.said(), told: around.told(), folder };
}

async function audited(text: string): Promise<{ findings: Findings; said: string }> {
  const { said, folder } = await run(["audit", "site.yaml", "--out", "out"], text);
  return { findings: findingsSchema.parse(JSON.parse(await readFile(join(folder, "out", "findings.json"), "utf8"))), said };
}

describe("a movement sensor entered as a flag", () => {
  const note = "hall is not used, because it seems to notice only movement: in 28 days it said 672 times that ida is here, usually for 2 min and";

  it("says nothing of who is away, and is told on top", async () => {
    const { findings, said } = await audited(log(passing));
    expect(findings.notes[0]).toContain(note);
    expect(findings.notes[0]).toContain("Give it “kind: stir”, of which only what it notices is believed, or use a sensor that tells both states.");
    expect(said).toContain(`note: ${note}`);
    const { steps } = findings.histories!.subjects.find(({ subject }) => subject === "ida")!;
    expect(stepsOf(steps, findings.period.from).map(({ state }) => state)).toEqual([2]);
    expect(findings.signals.find(({ signal }) => signal === "hall")).toMatchObject({ knownShare: 0 });
  });

  it("lets no rule that listens to it fire or be cleared, nor one that is right by what it says", async () => {
    const { findings } = await audited(log(passing));
    expect(findings.rules.map(({ firings }) => firings.count)).toEqual([0, 28]);
    expect(findings.rules.map(({ firings }) => firings.right + firings.wrong)).toEqual([0, 0]);
    for (const rule of findings.rules) expect(rule.verdict, rule.name).not.toBe("clear to enable");
  });

  it("is told by check too", async () => {
    const { said } = await run(["check", "site.yaml"], log(passing));
    expect(said).toContain(`  note: ${note}`);
  });
});

it("a tag reader with the same words is heard as ever", async () => {
  const { findings } = await audited(log(() => [["07:58:00", "off"], ["17:01:00", "on"]]));
  expect(findings.notes.join()).not.toContain("is not used");
  expect(findings.signals.find(({ signal }) => signal === "hall")!.knownShare).toBeGreaterThan(0.99);
});

it("a person who never came in four weeks, though the vehicle did, is told", async () => {
  const { findings } = await audited(log(() => []));
  expect(findings.notes.join("\n")).toContain("hall said that ida is away in all of the 27 days, though others moved. If that is right, all is well; if not, that signal does not notice ida.");
});
