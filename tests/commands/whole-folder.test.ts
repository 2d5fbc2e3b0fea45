import { mkdtemp, mkdir, readFile, readdir, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { beginWholeFolder, refuseStrangers } from "../../src/commands/whole-folder.js";

let place: string;
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), "keyworthy-test-"));
});
afterEach(async () => {
  await rm(place, { recursive: true, force: true });
});

const ours = ["report.html", "rows.csv"];

describe("a folder that appears whole or not at all", () => {
  it("is not at its place until it is finished, and then holds everything", async () => {
    const target = join(place, "site", "2026-10");
    const folder = await beginWholeFolder(join(place, "site"));
    const lines = folder.openLines("rows.csv");
    lines.add("a\n");
    await folder.write("report.html", "<p>");
    lines.add("b\n");
    await expect(stat(target)).rejects.toThrow(/ENOENT/);
    await folder.finish(target, ours);
    expect(await readFile(join(target, "rows.csv"), "utf8")).toBe("a\nb\n");
    expect(await readdir(join(place, "site"))).toEqual(["2026-10"]);
  });

  it("can be read by its owner alone", async () => {
    const folder = await beginWholeFolder(place);
    folder.openLines("rows.csv").add("x");
    await folder.write("report.html", "x");
    await folder.finish(join(place, "out"), ours);
    const modes = await Promise.all(["out", "out/report.html", "out/rows.csv"].map(async (name) => (await stat(join(place, name))).mode & 0o777));
    expect(modes.map((mode) => mode.toString(8))).toEqual(["700", "600", "600"]);
  });

  it("leaves no trace when abandoned, not even the folders made for it", async () => {
    const folder = await beginWholeFolder(join(place, "deep", "er"));
    folder.openLines("rows.csv").add("x");
    await folder.write("report.html", "x");
    await folder.abandon();
    expect(await readdir(place)).toEqual([]);
  });

  it("is abandoned without a complaint while lines are still being written", async () => {
    const folder = await beginWholeFolder(place);
    const lines = folder.openLines("rows.csv");
    lines.add("opens the file\n");
    await folder.write("report.html", "x");
    for (let i = 0; i < 5000; i++) lines.add(`row ${i}, ${"x".repeat(60)}\n`);
    await folder.abandon();
    expect(await readdir(place)).toEqual([]);
  });

  it("says so where nothing can be written", async () => {
    await writeFile(join(place, "file"), "x");
    await expect(beginWholeFolder(join(place, "file", "out"))).rejects.toThrow(/file\/out: No folder for the result can be made here\. Expected a place that you may write to; found ENOTDIR\. To mend it: name another folder with --out\./);
  });

  it("replaces an earlier result", async () => {
    for (const text of ["first", "second"]) {
      const folder = await beginWholeFolder(place);
      await folder.write("report.html", text);
      await folder.finish(join(place, "out"), ours);
    }
    expect(await readFile(join(place, "out", "report.html"), "utf8")).toBe("second");
    expect(await readdir(place)).toEqual(["out"]);
  });

  it("keeps the earlier result when the new one is abandoned", async () => {
    await mkdir(join(place, "out"));
    await writeFile(join(place, "out", "report.html"), "first");
    const folder = await beginWholeFolder(place);
    await folder.write("report.html", "second");
    await folder.abandon();
    expect(await readFile(join(place, "out", "report.html"), "utf8")).toBe("first");
  });

  it("never replaces a folder with somebody's files in it", async () => {
    await mkdir(join(place, "out"));
    await writeFile(join(place, "out", "thesis.txt"), "ten years");
    await expect(refuseStrangers(join(place, "out"), ours)).rejects.toThrow(
      /out: The output folder holds files that Keyworthy did not write, and it would be replaced as a whole\. Expected an empty or new folder, or an earlier result; found thesis\.txt\. To mend it: name another folder with --out\./,
    );
    const folder = await beginWholeFolder(place);
    await expect(folder.finish(join(place, "out"), ours)).rejects.toThrow(/thesis\.txt/);
    await folder.abandon();
    expect(await readFile(join(place, "out", "thesis.txt"), "utf8")).toBe("ten years");
  });

  it("says so when the output folder is a file", async () => {
    await writeFile(join(place, "out"), "x");
    await expect(refuseStrangers(join(place, "out"), ours)).rejects.toThrow(/The output folder is a file/);
  });
});
