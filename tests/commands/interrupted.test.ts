import { spawn } from "node:child_process";
import { mkdir, readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { folderWith, tinyLog, tinySite } from "./tiny-site.js";

const program = join(import.meta.dirname, "../../.build/cli.js");
/** Long enough to be interrupted: a quarter of a million rows of which none is new. */
const log = tinyLog() + "2026-06-07T17:03:00Z,rail,closed\n".repeat(1_500_000);

const making = async (folder: string): Promise<string[]> => (await readdir(folder).catch((): string[] => [])).filter((name) => name.startsWith(".keyworthy-"));

/** Begins an audit into `out`, waits until its unfinished folder is there, sends the signal, and says how it ended. */
async function interrupted(folder: string, out: string, signal: NodeJS.Signals): Promise<{ readonly by: NodeJS.Signals | null; readonly during: string[]; readonly note: string[] }> {
  const child = spawn(process.execPath, [program, "audit", "site.yaml", "--out", `${out}/result`, "--quiet"], { cwd: folder });
  const ended = new Promise<NodeJS.Signals | null>((resolve) => child.once("exit", (_, by) => {
    resolve(by);
  }));
  while ((await making(join(folder, out))).length === 0 && child.exitCode === null) await wait(5);
  const [during, note] = [await making(join(folder, out)), await making(folder)];
  child.kill(signal);
  return { by: await ended, during, note };
}

describe("a run that is interrupted", () => {
  it.each(["SIGINT", "SIGTERM", "SIGHUP", "SIGQUIT"] as const)("by %s takes its unfinished folder with it, and the folders made for it", async (signal) => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": log });
    const { by, during, note } = await interrupted(folder, "deep/er", signal);
    expect([by, during.length, note.length]).toEqual([signal, 1, 1]);
    expect((await readdir(folder)).toSorted()).toEqual(["log.csv", "site.yaml"]);
  }, 30_000);

  it("by SIGKILL leaves a folder that the next run of the site removes, wherever that writes", async () => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": log });
    await mkdir(join(folder, "mine"));
    expect((await interrupted(folder, "first", "SIGKILL")).by).toBe("SIGKILL");
    expect([(await making(join(folder, "first"))).length, (await making(folder)).length]).toEqual([1, 1]);
    await interrupted(folder, "second", "SIGTERM");
    expect([await readdir(join(folder, "first")), await making(folder)]).toEqual([[], []]);
    await rm(folder, { recursive: true });
  }, 30_000);
});
