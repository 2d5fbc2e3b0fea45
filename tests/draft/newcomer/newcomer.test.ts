import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import type { DraftAsker } from "../../../src/commands/draft/ask.js";
import { runDraft } from "../../../src/commands/draft.js";
import { runProgram } from "../../../src/commands/program.js";
import { folderWith, listening } from "../../commands/tiny-site.js";
import { exportsOf, laterNaming, type Naming } from "./exports.js";
import { findingsOf, judgedBy } from "./judged.js";
import { trueMonth } from "./month.js";

/*
 * A newcomer with an honest month of their own: slow wall meter, semicolons with decimal commas, a packed file, JSON lines, a house that
 * talks of much else, a phone that sleeps at night, a hatch, a visitor, an outage, a clock change. From the folder to a correct report,
 * counting what is edited by hand.
 */

/** What somebody who knows the house answers. Anything else is left for later. */
const answers: Readonly<Record<string, string>> = {
  timezone: "Europe/Vienna",
  "leave-out": "all",
  "on:loft_hatch": "ON",
  rules: "unlock lock",
  "limit:unlock": "once in 2 years",
  "limit:lock": "6 times a year",
};

/** Edits by hand, after the questions: a pattern and what it becomes. */
const edits: readonly (readonly [RegExp, string])[] = [];

async function drafted(files: Readonly<Record<string, string | Uint8Array>>, more: Readonly<Record<string, string>> = {}) {
  const folder = await folderWith(files);
  const asked: string[] = [];
  const asker: DraftAsker = {
    begin: () => undefined,
    ask: ({ id }) => {
      asked.push(id);
      const answer = { ...answers, ...more }[id];
      return Promise.resolve(answer === undefined ? { does: "later" } : { does: "answer", answer });
    },
  };
  const around = listening(folder);
  const status = await runDraft({ exports: ["exports"], out: "site.yaml", quiet: false }, around, asker);
  const path = join(folder, "site.yaml");
  const yaml = await readFile(path, "utf8");
  await writeFile(path, edits.reduce((text, [from, to]) => text.replace(from, to), yaml));
  return { folder, status, asked, said: around.said(), told: around.told(), yaml };
}

async function added(folder: string, files: Readonly<Record<string, string | Uint8Array>>): Promise<void> {
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), content);
  }
}

async function audited(folder: string, month: string) {
  const around = listening(folder);
  const status = await runProgram(["audit", "site.yaml", "--month", month, "--out", `report-${month}`], around);
  expect([0, 3], around.told()).toContain(status);
  return findingsOf(join(folder, `report-${month}`));
}

const filesOf = (month: string, naming?: Naming) => exportsOf(trueMonth(month, Number(month.slice(5))), naming, Number(month.slice(5)) + 100);

describe("a newcomer's month", { timeout: 400_000 }, () => {
  it("comes to a correct report with at most three edits by hand, and the next month with none", async () => {
    const { folder, status, asked, yaml } = await drafted(filesOf("2026-10"));
    expect(status).toBe(0);
    expect(asked.sort()).toEqual(["leave-out", "limit:lock", "limit:unlock", "on:loft_hatch", "rules", "timezone"]);
    expect(yaml).toContain("# Nothing is left open.");
    expect(edits.length).toBeLessThanOrEqual(3);

    const check = listening(folder);
    expect(await runProgram(["check", "site.yaml"], check), check.told()).toBe(0);
    for (const month of ["2026-10", "2026-11"]) {
      if (month === "2026-11") await added(folder, filesOf(month));
      const findings = await audited(folder, month);
      const judged = judgedBy(findings, trueMonth(month, Number(month.slice(5))));
      expect(judged.groups).toEqual({
        "bay bay-1": "bay1_ceiling wall-bay-1",
        "bay bay-2": "bay2_ceiling",
        "door door-1": "door_rail garage_door_leaf",
        "door loft-hatch": "loft_hatch",
        "person karel": "karel_phone",
        "person ines": "phone-ines",
      });
      expect(judged.turns).toBeGreaterThan(150);
      expect(judged.missed).toBe(0);
      // At night Ines's phone is the only one that speaks of her, and it sleeps: the report has those turns on one sensor's word.
      expect(judged.invented.filter((one) => !one.endsWith(" one"))).toEqual([]);
      expect(judged.invented.filter((one) => one !== "ines one").length).toBeLessThanOrEqual(0.02 * judged.episodes);
      for (const row of findings.ledger) expect(row.read).toBe(row.accepted + row.duplicate + row.setAside);
      expect(findings.ledger.filter(({ first }) => first !== null).map(({ file }) => file)).toContain(`exports/house ${month}.jsonl`);
    }
  });

  it("with columns, devices and words renamed in the next is known by check to bring news, and joined when drafted again", async () => {
    const later = filesOf("2026-11", laterNaming);
    const { folder } = await drafted(filesOf("2026-10"));
    const board = Object.entries(later).filter(([name]) => name.includes("board"));
    await added(folder, Object.fromEntries(board));
    const check = listening(folder);
    expect(await runProgram(["check", "site.yaml"], check), check.told()).toBe(0);
    expect(check.said()).toContain('  new: the channel "ceiling1", 42810 rows, first in exports/board 2026-11.csv');
    expect(check.said()).toMatch(/write both, as in `channel: \[old name, "ceiling\d"\]`; one that is none of yours: add it to `leave_out` of its source/);
    await added(folder, later);
    const refused = listening(folder);
    expect(await runProgram(["check", "site.yaml"], refused)).toBe(2);
    expect(refused.told()).toMatch(/wall bay 1 2026-11\.csv:1: The header lacks the columns "Zeit", "Abstand cm"\..*for one that is called otherwise in other files write all its names, as in \["Zeit", "new name"\]/);

    const both = await drafted({ ...filesOf("2026-10"), ...later }, { "renamed:bay1_ceiling:ceiling1": "same", "renamed:bay2_ceiling:ceiling2": "same" });
    expect(both.yaml).toContain("# Nothing is left open.");
    expect(both.yaml).toContain("time: { column: [Zeit, Zeitpunkt],");
    expect(both.yaml).toContain("channel: [bay1_ceiling, ceiling1]");
    expect(both.yaml).toContain("open: [open, offen]");
    for (const month of ["2026-10", "2026-11"]) {
      const judged = judgedBy(await audited(both.folder, month), trueMonth(month, Number(month.slice(5))));
      expect(Object.keys(judged.groups)).toHaveLength(6);
      expect([month, judged.missed]).toEqual([month, 0]);
    }
  });
});
