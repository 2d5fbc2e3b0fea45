import { execFile, spawnSync } from "node:child_process";
import { copyFile, mkdir, mkdtemp, readFile, realpath, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";

/** The program's own folder with nothing in it but what starts it, and what else is given; then what the command says there. */
async function started(files: Readonly<Record<string, string>> = {}, needs = ">=20.19") {
  const root = await realpath(await mkdtemp(join(tmpdir(), "keyworthy-start-")));
  await mkdir(join(root, "src"));
  await copyFile("src/start.mjs", join(root, "src", "start.mjs"));
  for (const [name, text] of Object.entries({ "package.json": JSON.stringify({ type: "module", engines: { node: needs } }), ...files })) {
    await mkdir(dirname(join(root, name)), { recursive: true });
    await writeFile(join(root, name), text);
  }
  return new Promise<{ root: string; status: number | null; said: string; told: string }>((done) => {
    const child = execFile(process.execPath, [join(root, "src", "start.mjs"), "draft", "exports"], (_, said, told) => {
      done({ root, status: child.exitCode, said, told });
    });
  });
}

describe("the command keyworthy", () => {
  it("is what package.json says, and packed with the rest", async () => {
    const { bin, files } = JSON.parse(await readFile("package.json", "utf8")) as { bin: Record<string, string>; files: string[] };
    expect(bin).toEqual({ keyworthy: "./src/start.mjs" });
    expect(files).toContain("src/start.mjs");
  });

  it("says that the program is not built, where, and how to build it", async () => {
    const { root, status, said, told } = await started();
    expect([status, said, told]).toEqual([2, "", `Keyworthy is not built yet in ${root}. To mend it: go to that folder and run npm ci && npm run build; then start again.\n`]);
  });

  it("says that its packages are not installed", async () => {
    const { root, status, told } = await started({ ".build/cli.js": 'import "no-such-package";' });
    expect([status, told]).toEqual([2, `Keyworthy is built, but what it needs is not installed: Cannot find package 'no-such-package' imported from ${root}/.build/cli.js. To mend it: run npm ci in ${root}; then start again.\n`]);
  });

  it("says that the system lets it open no more of its files", async () => {
    const { status, told } = await started({ ".build/cli.js": 'throw Object.assign(new Error("too many open files"), { code: "EMFILE" });' });
    expect([status, told]).toEqual([1, "Too many files are open to start Keyworthy. Found EMFILE. To mend it: raise the limit (ulimit -n), or close other programs.\n"]);
  });

  it("says that the folder is gone in which it was started", async () => {
    const folder = await mkdtemp(join(tmpdir(), "keyworthy-gone-"));
    const { status, stderr } = spawnSync("sh", ["-c", `rmdir "${folder}"; exec "${process.execPath}" "${join(import.meta.dirname, "../../.build/cli.js")}" audit site.yaml`], { cwd: folder, encoding: "utf8" });
    expect([status, stderr]).toEqual([1, "The folder in which the command was started is gone. To mend it: go to another folder, and start it there.\n"]);
  });

  it("says which Node it needs", async () => {
    const { status, told } = await started({ ".build/cli.js": 'console.log("no")' }, ">=999.1");
    expect([status, told]).toEqual([2, `Keyworthy needs Node.js 999.1 or newer; this is ${process.versions.node}. To mend it: install a newer one, and start again.\n`]);
  });

  it("starts the program with its words, and leaves its status and its faults alone", async () => {
    expect(await started({ ".build/cli.js": "console.log(process.argv.slice(2).join()); process.exitCode = 3;" })).toMatchObject({ status: 3, said: "draft,exports\n", told: "" });
    const faulty = await started({ ".build/cli.js": 'throw new Error("a fault of ours");' });
    expect([faulty.status, faulty.told]).toEqual([1, expect.stringContaining("Error: a fault of ours")]);
  });
});
