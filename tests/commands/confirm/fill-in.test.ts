import { readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { stringify } from "csv-stringify/sync";
import { expect, it } from "vitest";
import { decoded } from "../../../src/result/json-text.js";
import { findingsSchema, type Findings } from "../../../src/result/findings.js";
import { runProgram } from "../../../src/commands/program.js";
import { folderWith, listening } from "../tiny-site.js";
import { wasHome, willowHouse } from "./willow-house.js";

const result = "reports/willow-house/2026-06";

/** One month, asked by table: audited, filled in by the truth, named as diary, and audited again until nothing is asked. */
it("the table filled in by the truth settles the verdict; answered rows are carried along and contradict nothing", async () => {
  const house = willowHouse({ wrongPerYear: 0.5, friendDay: 11 });
  const folder = await folderWith({ ...house, "site.yaml": house["site.yaml"].replace("files: diary.csv", 'files: [diary.csv, "answers-*.csv"]'), "answers-0.csv": "subject,state,from,to\n" });
  const text = (name: string) => readFile(join(folder, name), "utf8");
  const audited = async (): Promise<{ readonly findings: Findings; readonly rows: Record<string, string>[]; readonly told: string; readonly said: string }> => {
    const around = listening(folder);
    expect([await runProgram(["audit", "site.yaml", "--month", "2026-06"], around), around.told()]).toEqual([3, expect.not.stringContaining("contradict")]);
    return { findings: decoded(findingsSchema, JSON.parse(await text(`${result}/findings.json`))).data!, rows: parse(await text(`${result}/to-confirm.csv`), { columns: true }), told: around.told(), said: around.said() };
  };
  let now = await audited();
  expect(now.findings.rules[0]).toMatchObject({ verdict: "not proven yet", firings: { right: 9, wrong: 0, unverified: 22 } });
  let answered = 0;
  let rounds = 0;
  while (now.rows.some(({ state }) => state === "") && rounds < 5) {
    rounds += 1;
    expect(now.rows.filter(({ state }) => state !== "")).toHaveLength(answered);
    const filled = now.rows.map((row) => ({ ...row, state: wasHome({ from: Date.parse(row["from"]!), to: Date.parse(row["to"]!) }) ? "here" : "away" }));
    answered = filled.length;
    const table = stringify(filled, { header: true, record_delimiter: "windows" });
    await writeFile(join(folder, result, "to-confirm.csv"), table);
    await writeFile(join(folder, "answers-1.csv"), table);
    now = await audited();
    expect(now.told).toMatch(new RegExp(`/to-confirm\\.csv: ${answered} rows? that you filled in stands? first in the new file`));
    expect(now.said).toContain("and no sensor contradicts");
    expect(now.rows.slice(0, answered)).toEqual(filled);
  }
  expect(rounds).toBeGreaterThan(0);
  expect(now.findings.rules[0]).toMatchObject({ verdict: "do not enable", firings: { wrong: 1 } });
  expect(now.findings.diary.entries).toBeGreaterThan(20);
  await rm(folder, { recursive: true });
}, 120_000);
