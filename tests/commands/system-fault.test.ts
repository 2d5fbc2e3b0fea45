import { spawnSync } from "node:child_process";
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { systemFault } from "../../src/commands/system-fault.js";
import { problem, problemText } from "../../src/ground/problem.js";
import { folderWith, tinyLog, tinySite } from "./tiny-site.js";

const program = join(import.meta.dirname, "../../.build/cli.js");

/** Runs the built program in a shell that has set limits; what it said, without the folder. */
function limited(folder: string, limits: string, words: string): { readonly status: number | null; readonly told: string } {
  const { status, stderr } = spawnSync("bash", ["-c", `${limits}; exec "${process.execPath}" "${program}" ${words}`], { cwd: folder, encoding: "utf8" });
  return { status, told: stderr.replaceAll(folder, "FOLDER").replace(/\.keyworthy-making-[^/:]+/, "MAKING") };
}

describe("what the system refuses is told in words: what, where, what to do", () => {
  it("a file larger than it allows, and nothing is left behind", async () => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
    expect(limited(folder, "ulimit -f 8", "audit site.yaml --out out --quiet")).toEqual({
      status: 1,
      told: "FOLDER/MAKING/findings.json: The file would be larger than the system allows. Found EFBIG. To mend it: raise the limit on file sizes (ulimit -f), or write to another disk with --out.\n",
    });
    expect(await readdir(folder)).toEqual(["log.csv", "site.yaml"]);
  });

  it("a name that is too long", async () => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
    const { status, told } = limited(folder, "true", `audit site.yaml --out ${"a".repeat(300)} --quiet`);
    expect([status, told]).toEqual([1, `FOLDER/${"a".repeat(300)}: The name is too long for the system. Found ENAMETOOLONG. To mend it: name a shorter path with --out, or give the site a shorter name.\n`]);
  });

  // Node itself opens some 300 modules at once as it starts.
  it("but not many sites: they wait for one another, however few files may be open", async () => {
    const names = Array.from({ length: 600 }, (_, i) => `s${i}`);
    const folder = await folderWith(Object.fromEntries(names.flatMap((name) => [[`${name}/site.yaml`, tinySite.replace("Otter Cottage", name)], [`${name}/log.csv`, "at,what,says\n"]])));
    const { status, told } = limited(folder, "ulimit -n 512", "audit */site.yaml --out all --quiet");
    expect(status).toBe(2);
    const lines = told.trimEnd().split("\n");
    expect(lines.filter((line) => !line.includes("The exports hold no readable reading"))).toEqual([]);
    expect(lines).toHaveLength(600);
  }, 90_000);

  it.each([
    ["ENOSPC", "There is no room left on the disk. Found ENOSPC. To mend it: make room there, or write elsewhere with --out."],
    ["EACCES", "You may not do this here. Found EACCES. To mend it: check the permissions of the file and of its folder, or name another place with --out."],
    ["EROFS", "Nothing can be written to this disk. Found EROFS. To mend it: write elsewhere with --out."],
    ["ERR_WORKER_OUT_OF_MEMORY", "The computer has no memory left for a thread that reads exports. Found ERR_WORKER_OUT_OF_MEMORY. To mend it: close other programs, or give the exports in smaller files."],
  ])("%s", (code, text) => {
    const fault = systemFault(Object.assign(new Error("no"), { code, path: "out/report.html" }));
    expect(problemText(problem(fault!))).toBe(`out/report.html: ${text}`);
  });

  it("is not anything else", () => {
    expect(systemFault(new Error("a mistake of ours"))).toBeNull();
    expect(systemFault(Object.assign(new Error("no"), { code: "ERR_INVALID_ARG_TYPE" }))).toBeNull();
  });
});
