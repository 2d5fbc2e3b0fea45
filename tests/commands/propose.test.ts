import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { LIMITS, slowPhone } from "../study/proposals/worlds.js";
import { monthSpan } from "../study/verdict/limits.js";
import { filesOf } from "../study/verdict/site-text.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

describe("keyworthy propose", () => {
  let folder: string;
  let said: string;
  let status: number;
  beforeAll(async () => {
    folder = await folderWith(Object.fromEntries(filesOf(slowPhone("told", monthSpan(0)), LIMITS)));
    const around = listening(folder);
    status = await runProgram(["propose", "site.yaml", "--act", "unlock", "--quiet"], around);
    said = around.said();
  }, 60_000);

  it("says which rule would do better, with the figures of the part that had no say", () => {
    expect(status).toBe(0);
    expect(said).toMatch(/^# unlock on arrival: 1 of \d+ rules? tried was better than the present one on both parts of the history/m);
    expect(said).toMatch(/^ {2}# The present rule looks back too short a time, 2 min: at .* moments that it fixes gate-contact had reported/m);
    expect(said).toMatch(/^ {2}# On the part of the history that was not used to choose: of \d+ firings, 0 wrong, 0 that look wrong and 0 that nobody can judge; of \d+ wanted, 0 late and 0 missed/m);
    expect(said).toMatch(/^ {2}# {3}\d+ Mar 2026 \d\d:\d\d:\d\d: missed -> in time$/m);
  });

  it("prints what can be tried as it is, and leaves the site file alone", async () => {
    const before = await readFile(join(folder, "site.yaml"), "utf8");
    await writeFile(join(folder, "better.yaml"), said);
    const around = listening(folder);
    await runProgram(["audit", "site.yaml", "--try", "better.yaml", "--out", "out"], around);
    expect(around.told()).toBe("");
    expect(around.said()).toContain("unlock on arrival, proposed (2)");
    expect(around.said()).toContain("A better rule was found. The present rule looks");
    expect(around.said()).toContain("See the report or `keyworthy propose site.yaml`.");
    expect(await readFile(join(folder, "site.yaml"), "utf8")).toBe(before);
  }, 60_000);

  it("gives 3 where nothing better is found, and 2 for a rule that is not there", async () => {
    const tiny = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
    const around = listening(tiny);
    expect(await runProgram(["propose", "site.yaml", "--quiet"], around)).toBe(3);
    expect(around.said()).toMatch(/^# unlock on arrival: Nothing better was found/m);
    const wrong = listening(tiny);
    expect(await runProgram(["propose", "site.yaml", "--rule", "let me in"], wrong)).toBe(2);
    expect(wrong.told()).toMatch(/no rule called "let me in"/);
  });
});
