import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

/** Clears a screen, goes back to the beginning of the line, turns the direction of writing round. */
const HOSTILE = "\u001b[2J\r\u202e";

/** The site file takes no such names; but a pattern may match a file that has one, and a result may come from elsewhere. */
describe("names from files that would steer a terminal", () => {
  let folder: string;
  beforeAll(async () => {
    folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", 'files: "log*.csv"'), [`log${HOSTILE}.csv`]: `${tinyLog()}2026-06-07T20:00:00Z,ghost${HOSTILE},1\n`, "plain.csv": `${tinyLog()}2026-06-07T20:00:00Z,ghost${HOSTILE},1\n` });
    expect(await runProgram(["audit", "site.yaml", "--out", "many/otter"], listening(folder))).toBe(3);
    for (const name of ["findings.json", "counts.json"]) {
      const path = join(folder, "many", "otter", name);
      const text = await readFile(path, "utf8");
      await writeFile(path, text.replaceAll(/\b(Otter|overhead|unlock on arrival)\b/g, `$1${JSON.stringify(HOSTILE).slice(1, -1)}`));
    }
  });

  it.each([
    ["check", ["check", "site.yaml"], 0],
    ["audit", ["audit", "site.yaml"], 3],
    ["propose", ["propose", "site.yaml"], 3],
    ["draft", ["draft", "plain.csv"], 0],
    ["combine", ["combine", "many", "--out", "all"], 3],
    ["explain", ["explain", "many/otter/findings.json", "--at", "2026-06-03T17:02"], 0],
    ["thin", ["thin", "many", "--before", "2026-08", "--show"], 0],
  ] as const)("do not in what is said by %s", async (_, words, status) => {
    const around = listening(folder);
    expect(await runProgram(words, around), around.told()).toBe(status);
    expect(around.said()).not.toBe("");
    expect(/.{0,40}[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/.exec((around.said() + around.told()).replaceAll("\n", ""))).toBe(null);
  });
});
