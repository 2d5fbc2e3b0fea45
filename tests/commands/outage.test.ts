import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { stepsOf } from "../../src/result/history-steps.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { folderWith, listening, tinySite } from "./tiny-site.js";

/** Four weeks of a house whose sensors only report changes: away at 08:00, home at 17:00. No row from `from` up to `to`. */
function log(from = "", to = ""): string {
  const rows = ["at,what,says", ...["overhead,4.2", "wall,20", "rail,closed", "phone,in"].map((row) => `2026-06-01T00:00:00Z,${row}`)];
  for (let day = 1; day <= 28; day += 1) {
    const date = `2026-06-${String(day).padStart(2, "0")}`;
    for (const row of ["08:00:00Z,rail,open", "08:00:30Z,overhead,8.1", "08:00:31Z,wall,118", "08:01:00Z,rail,closed", "08:03:00Z,phone,out", "17:00:00Z,phone,in", "17:01:00Z,rail,open", "17:01:30Z,wall,20", "17:01:40Z,overhead,4.2", "17:03:00Z,rail,closed"]) {
      const at = `${date}T${row.slice(0, 8)}`;
      if (at < from || at >= to) rows.push(`${date}T${row}`);
    }
  }
  return `${rows.join("\n")}\n`;
}

async function audited(text: string): Promise<{ findings: Findings; said: string }> {
  const folder = await folderWith({ "site.yaml": tinySite, "log.csv": text });
  const around = listening(folder);
  await runProgram(["audit", "site.yaml", "--out", "out"], around);
  return { findings: findingsSchema.parse(JSON.parse(await readFile(join(folder, "out", "findings.json"), "utf8"))), said: around.said() };
}

function stateOf({ histories, period }: Findings, subject: string, time: string): number {
  const at = Date.parse(`2026-06-${time}Z`);
  return stepsOf(histories!.subjects.find((one) => one.subject === subject)!.steps, period.from).findLast((step) => step.at <= at)!.state;
}

it("three days in which nothing at all is heard are unknown, and told first of all", async () => {
  const { findings, said } = await audited(log("2026-06-10T12:00:00", "2026-06-13T12:00:00"));
  expect(findings.notes[0]).toMatch(/^Nothing at all was heard from 2026-06-10 09:03 \+01:00 to 2026-06-13 18:00 \+01:00 \(3\.4 days\), though otherwise it was never quiet for longer than 15 h/);
  expect(said).toContain("note: Nothing at all was heard");
  for (const subject of ["bay", "door", "ida"]) {
    expect(stateOf(findings, subject, "09T12:00:00"), subject).toBe(0);
    expect(stateOf(findings, subject, "11T23:00:00"), subject).toBe(2);
    expect(stateOf(findings, subject, "14T12:00:00"), subject).toBe(0);
  }
});

it("a house that goes on as ever has no such note", async () => {
  const { findings } = await audited(log());
  expect(findings.notes.join()).not.toContain("was heard");
});
