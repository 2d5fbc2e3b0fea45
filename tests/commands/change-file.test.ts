import { spawn } from "node:child_process";
import { writeFileSync as writeFileNow } from "node:fs";
import { chmod, mkdtemp, readdir, readFile, rm, stat, symlink, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { changeFile } from "../../src/commands/change-file.js";
import { makingName } from "../../src/commands/unfinished.js";

let folder: string;
let file: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyworthy-change-"));
  file = join(folder, "diary.csv");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const add = (text: string) => (content: Buffer | null): Buffer => Buffer.concat([content ?? Buffer.alloc(0), Buffer.from(text)]);
const lockFile = (): string => join(folder, ".diary.csv.keyworthy-lock");

describe("a file that is changed as a whole", () => {
  it("is made for its owner alone, keeps its permissions later, and leaves nothing beside it", async () => {
    await changeFile(file, add("a"));
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    await chmod(file, 0o640);
    expect(await changeFile(file, add("b"))).toEqual({ before: Buffer.from("a"), after: Buffer.from("ab") });
    expect([(await stat(file)).mode & 0o777, await readFile(file, "utf8"), await readdir(folder)]).toEqual([0o640, "ab", ["diary.csv"]]);
  });

  it("is changed where a link leads, and the link stays", async () => {
    await writeFile(join(folder, "real.csv"), "a");
    await symlink("real.csv", file);
    await changeFile(file, add("b"));
    expect([await readFile(join(folder, "real.csv"), "utf8"), (await readdir(folder)).toSorted()]).toEqual(["ab", ["diary.csv", "real.csv"]]);
  });

  it("loses nothing when many change it at once", async () => {
    await Promise.all(Array.from({ length: 20 }, (_, i) => changeFile(file, add(`${i};`))));
    expect((await readFile(file, "utf8")).split(";").filter(Boolean).map(Number).toSorted((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, i) => i));
  });

  it("is looked at again if somebody without a lock wrote meanwhile", async () => {
    await writeFile(file, "a");
    let asked = 0;
    await changeFile(file, (content) => {
      asked += 1;
      // An editor saves just now.
      if (asked === 1) writeFileNow(file, "edited ");
      return add("b")(content);
    });
    expect([asked, await readFile(file, "utf8")]).toEqual([2, "edited b"]);
  });

  it("stays as it was when the change is refused, and can be changed afterwards", async () => {
    await writeFile(file, "a");
    await expect(changeFile(file, () => { throw new Error("no"); })).rejects.toThrow("no");
    await changeFile(file, add("b"));
    expect([await readFile(file, "utf8"), await readdir(folder)]).toEqual(["ab", ["diary.csv"]]);
  });

  it("is not held up by the lock of a process that was killed, and sweeps what that left", async () => {
    const dead = await nameOfDead();
    await writeFile(lockFile(), dead);
    await writeFile(join(folder, dead), "half");
    await changeFile(file, add("a"));
    expect([await readFile(file, "utf8"), await readdir(folder)]).toEqual(["a", ["diary.csv"]]);
    await writeFile(lockFile(), "");
    await utimes(lockFile(), 0, 0);
    await changeFile(file, add("b"));
    expect(await readFile(file, "utf8")).toBe("ab");
  });

  it("says so when somebody holds the lock too long", async () => {
    await writeFile(lockFile(), makingName());
    await expect(changeFile(file, add("a"), 300)).rejects.toThrow(
      `${file}: Another program has been writing this file for too long. Found the lock ${lockFile()}. To mend it: end the other \`keyworthy confirm\`; if none runs, delete the lock.`,
    );
  });

  it("says so where it cannot be written", async () => {
    await expect(changeFile(join(folder, "none", "diary.csv"), add("a"))).rejects.toThrow(
      "none/diary.csv: The file cannot be written. Expected a file and a folder that you may write to; found ENOENT. To mend it: check the permissions of the file and of its folder, and the space on the disk.",
    );
  });
});

/** The name that a process of this host which has ended would have given. */
async function nameOfDead(): Promise<string> {
  const child = spawn(process.execPath, ["-e", ""]);
  await new Promise((done) => child.once("exit", done));
  return makingName().replace(`-${process.pid}-`, `-${child.pid!}-`);
}
