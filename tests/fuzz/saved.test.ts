import { spawnSync } from "node:child_process";
import { mkdtemp, readFile, readdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { prepared } from "./target.js";
import { targetOf } from "./targets.js";

const program = join(import.meta.dirname, "../../.build/cli.js");

/** Files that once brought a reader down, as `npm run fuzz` left them. A name: format, seed, number. */
describe.each(await readdir("tests/fuzz/saved"))("the input %s, which once was too much,", (name) => {
  it("is read or refused in words", async () => {
    const target = await targetOf(name.slice(0, name.indexOf(".")));
    const folder = await mkdtemp(join(tmpdir(), "keyworthy-saved-"));
    await prepared(folder, target);
    await writeFile(join(folder, target.file), await readFile(join("tests/fuzz/saved", name)));
    if (target.isReadApart !== true) {
      expect(["read", "refused"]).toContain(await target.take(folder, 0));
      return;
    }
    for (const words of [target.command.words, ["draft", target.file]]) {
      const { status, stderr } = spawnSync(process.execPath, [program, ...words], { cwd: folder, encoding: "utf8", timeout: 30_000, killSignal: "SIGKILL" });
      expect(stderr).toMatch(/^a\.parquet: The Parquet file cannot be read\. Expected a whole Parquet file; found .*\. To mend it: copy or export it again/);
      expect(status).toBe(2);
    }
  }, 90_000);
});
