import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { stepsOf } from "../../src/result/history-steps.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { folderWith, listening } from "./tiny-site.js";

/* A wall meter reads 30 in with the household's vehicle and 100 in without; its band ends at 50.7 in. On the 6th a visitor's stands at 51.5. */

const site = (empty: string): string => `site: Otter Cottage
timezone: Etc/UTC
sources:
  log: { files: log.csv, time: { column: at, written: iso }, signal: what, value: says }
bays: { bay: {} }
people: { ida: {} }
signals:
  wall: { on: bay, source: log, channel: wall, kind: distance, unit: in, present: [20, 50.7], ${empty}settle: 20s, expect: 10min }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: [in], away: [out] }
rules:
  - { name: lock when all have left, act: lock, when: { all: [ { every: bays, is: empty }, { every: people, is: away, held: 5min } ] } }
`;

function log(): string {
  const rows = ["at,what,says", "2026-06-01T00:00:00Z,phone,in"];
  for (let i = 0; i < 9 * 144; i += 1) {
    const at = new Date(Date.UTC(2026, 5, 1) + i * 600_000);
    const [day, minute] = [at.getUTCDate(), at.getUTCHours() * 60 + at.getUTCMinutes()];
    const away = minute >= 480 && minute < 1020;
    const visited = day === 6 && minute >= 540 && minute < 950;
    // On its way in, the household's own vehicle is caught at 70 in.
    const inches = visited ? 51.5 : minute === 1020 ? 70 : away ? 100 : 30;
    rows.push(`${at.toISOString()},wall,${inches + (i % 5) / 10}`);
    if (minute === 480 || minute === 1020) rows.push(`${at.toISOString()},phone,${away ? "out" : "in"}`);
  }
  return `${rows.join("\n")}\n`;
}

async function audited(empty: string): Promise<{ findings: Findings; said: string }> {
  const folder = await folderWith({ "site.yaml": site(empty), "log.csv": log() });
  const around = listening(folder);
  await runProgram(["audit", "site.yaml", "--out", "out"], around);
  expect(around.told()).toBe("");
  return { findings: findingsSchema.parse(JSON.parse(await readFile(join(folder, "out", "findings.json"), "utf8"))), said: around.said() };
}

/** 0 empty, 1 occupied, 2 unknown. */
function stateAt({ histories, period }: Findings, of: "signals" | "subjects", time: string): number {
  const steps = of === "subjects" ? histories!.subjects.find(({ subject }) => subject === "bay")!.steps : histories!.signals.find(({ signal }) => signal === "wall")!.steps;
  const at = Date.parse(`2026-06-${time}Z`);
  return stepsOf(steps, period.from).findLast((step) => step.at <= at)!.state;
}

it("a visitor's vehicle beside the band leaves the bay unknown, where the site file says how it reads empty", async () => {
  const { findings, said } = await audited("empty: [90, 118], ");
  for (const of of ["signals", "subjects"] as const) {
    expect(stateAt(findings, of, "06T08:50:00"), of).toBe(0);
    expect(stateAt(findings, of, "06T12:00:00"), of).toBe(2);
    expect(stateAt(findings, of, "06T16:30:00"), of).toBe(0);
  }
  // Caught on the way in on every day, it still goes from empty to occupied: it is unknown only until it first settles, and beside the visitor's.
  const { steps } = findings.histories!.signals.find(({ signal }) => signal === "wall")!;
expect(steps.match(/\bu/g)).toHaveLength(2);
  expect(steps.match(/\bn/g)).toHaveLength(10);
  expect(said).not.toContain("read neither");
});

it("and where it does not, nobody takes it for empty but the rules, and a note says so", async () => {
  const { findings, said } = await audited("");
  expect(stateAt(findings, "signals", "06T12:00:00")).toBe(0);
  expect(stateAt(findings, "subjects", "06T08:50:00")).toBe(0);
  expect(stateAt(findings, "subjects", "06T12:00:00")).toBe(2);
  expect(stateAt(findings, "subjects", "06T16:30:00")).toBe(0);
  expect(said).toMatch(/note: wall read neither occupied nor empty for 6 h 50 min/);
});
