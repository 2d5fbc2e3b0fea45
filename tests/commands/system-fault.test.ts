import { execFileSync, spawnSync } from "node:child_process";
import { chmod, mkdir, readdir } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { systemFault } from "../../src/commands/system-fault.js";
import { problem, problemText } from "../../src/ground/problem.js";
import { folderWith, tinyLog, tinySite } from "./tiny-site.js";

const program = join(import.meta.dirname, "../../.build/cli.js");

/** Runs the built program in a shell that has set limits; what it said, without the folder. */
function limited(folder: string, limits: string, words: string, as = ""): { readonly status: number | null; readonly told: string } {
  const { status, stderr } = spawnSync("bash", ["-c", `${limits}; exec ${as} "${process.execPath}" "${program}" ${words}`], { cwd: folder, encoding: "utf8" });
  return { status, told: stderr.replaceAll(folder, "FOLDER").replace(/\.keyworthy-making-[^/:]+/, "MAKING") };
}

/** Whether this user may mount a small disk, as a container's often may not. */
function canMount(): boolean {
  const { status } = spawnSync("bash", ["-c", 'place=$(mktemp -d) && mount -t tmpfs -o size=40k tmpfs "$place" && umount "$place"; code=$?; rmdir "$place"; exit $code']);
  return status === 0;
}

/** Whether a command may be run as another user who can reach the program. */
function canBeAnother(): boolean {
  return spawnSync("setpriv", ["--reuid=65534", "--regid=65534", "--clear-groups", process.execPath, program, "--version"]).status === 0;
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

  it("but a site may have a name of any length: its folder gets a short one", async () => {
    const folder = await folderWith({ "site.yaml": tinySite.replace("Otter Cottage", "n".repeat(300)), "log.csv": tinyLog() });
    expect(limited(folder, "true", "audit site.yaml --quiet --pages none").status).toBe(3);
    expect((await readdir(join(folder, "reports"))).map((name) => name.length < 100)).toEqual([true]);
  });

  it("an export whose name is too long", async () => {
    const name = `${"e".repeat(300)}.csv`;
    const folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", `files: ${name}`), "log.csv": tinyLog() });
    const { status, told } = limited(folder, "true", "check site.yaml --quiet");
    expect([status, told.includes(name), /\n\s+at /.test(told)]).toEqual([2, true, false]);
  });

  it.skipIf(!canMount())("no room on the disk, and nothing is left behind (skipped where nobody may mount one)", async () => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
    const disk = join(folder, "disk");
    await mkdir(disk);
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=40k", "tmpfs", disk]);
    try {
      const { status, told } = limited(folder, "true", "audit site.yaml --out disk/out --quiet");
      expect([status, told]).toEqual([1, expect.stringMatching(/^FOLDER\/disk\/MAKING\/[a-z.-]+: There is no room left on the disk\. Found ENOSPC\. To mend it: make room there, or write elsewhere with --out\.\n$/)]);
      expect(await readdir(disk)).toEqual([]);
    } finally {
      execFileSync("umount", [disk]);
    }
  });

  it.skipIf(!canBeAnother())("no permission, for another user (skipped where nobody can become one)", async () => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
    const asAnother = (words: string) => limited(folder, "umask 077", words, "setpriv --reuid=65534 --regid=65534 --clear-groups");
    await chmod(folder, 0o755);
    await chmod(join(folder, "site.yaml"), 0o644);
    await chmod(join(folder, "log.csv"), 0o600);
    expect(asAnother("audit site.yaml --quiet")).toEqual({ status: 2, told: "FOLDER/reports/otter-cottage: No folder for the result can be made here. Expected a place that you may write to; found EACCES. To mend it: name another folder with --out.\n" });
    expect(asAnother("check site.yaml --quiet")).toEqual({ status: 2, told: "log.csv: The file cannot be read. Found EACCES. To mend it: check that it is there and that you may read it.\n" });
    await chmod(join(folder, "site.yaml"), 0o600);
    expect(asAnother("check site.yaml --quiet")).toEqual({ status: 2, told: "FOLDER/site.yaml: The file cannot be read (EACCES). Expected a site file.\n" });
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
