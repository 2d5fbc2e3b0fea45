import { mkdtemp, mkdir, readFile, readdir, rm, stat, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { beginWholeFolder } from "../../src/commands/whole-folder.js";
import { refuseForeign, type ResultOf } from "../../src/commands/written-list.js";

let place: string;
beforeEach(async () => {
  place = await mkdtemp(join(tmpdir(), "keyworthy-test-"));
});
afterEach(async () => {
  await rm(place, { recursive: true, force: true });
});

const otter: ResultOf = { result: "audit", sites: ["Otter Cottage"], period: "2026-10" };

/** Writes a result at `place`/out. */
async function writtenTo(text: string, of: ResultOf = otter): Promise<string> {
  const folder = await beginWholeFolder(place);
  try {
    await folder.write("report.html", text);
    await folder.write("fleet/fleet.json", text);
    folder.openLines("rows.csv").add(text);
    await folder.finish(join(place, "out"), of);
  } catch (error) {
    await folder.abandon();
    throw error;
  }
  return join(place, "out");
}

describe("a folder that appears whole or not at all", () => {
  it("is begun where others give up at the same time, and take the folder away that was made for all", async () => {
    const parent = join(place, "all");
    const over = async (): Promise<void> => {
      for (let i = 0; i < 300; i += 1) await (await beginWholeFolder(parent)).abandon();
    };
    const outcomes = await Promise.allSettled([over(), over()]);
    expect(outcomes.filter(({ status }) => status === "rejected")).toEqual([]);
  });

  it("is not at its place until it is finished, and then holds everything", async () => {
    const target = join(place, "site", "2026-10");
    const folder = await beginWholeFolder(join(place, "site"));
    const lines = folder.openLines("rows.csv");
    lines.add("a\n");
    await folder.write("report.html", "<p>");
    lines.add("b\n");
    await expect(stat(target)).rejects.toThrow(/ENOENT/);
    await folder.finish(target, otter);
    expect(await readFile(join(target, "rows.csv"), "utf8")).toBe("a\nb\n");
    expect(await readdir(join(place, "site"))).toEqual(["2026-10"]);
  });

  it("says what it is of, and how each file was written", async () => {
    const out = await writtenTo("x");
    // SHA-256 of "x", from `printf x | sha256sum`.
    const x = "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881";
    expect(JSON.parse(await readFile(join(out, ".written.json"), "utf8"))).toEqual({ schema: "keyworthy.written/1", ...otter, files: { "fleet/fleet.json": x, "report.html": x, "rows.csv": x } });
  });

  it("can be read by its owner alone", async () => {
    await writtenTo("x");
    const modes = await Promise.all(["out", "out/report.html", "out/rows.csv", "out/.written.json"].map(async (name) => (await stat(join(place, name))).mode & 0o777));
    expect(modes.map((mode) => mode.toString(8))).toEqual(["700", "600", "600", "600"]);
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

  it("replaces an earlier result of the same site and period", async () => {
    await writtenTo("first");
    const out = await writtenTo("second");
    expect(await readFile(join(out, "report.html"), "utf8")).toBe("second");
    expect(await readdir(place)).toEqual(["out"]);
  });

  it("keeps the earlier result when the new one is abandoned", async () => {
    const out = await writtenTo("first");
    const folder = await beginWholeFolder(place);
    await folder.write("report.html", "second");
    await folder.abandon();
    expect(await readFile(join(out, "report.html"), "utf8")).toBe("first");
  });
});

describe("what is not ours is never replaced, and stays as it was:", () => {
  /** Changes an earlier result, tries to replace it, and gives the message; checks that everything stayed. */
  async function refusal(change: (out: string) => Promise<void>, of: ResultOf = otter): Promise<string> {
    const out = await writtenTo("first");
    await change(out);
    const before = await treeOf(out);
    const message: unknown = await writtenTo("second", of).then(() => "replaced", (error: unknown) => (error as Error).message);
    expect(await treeOf(out)).toEqual(before);
    expect(await readdir(place)).toEqual(["out"]);
    return String(message).replace(`${place}/`, "");
  }

  const mend = "To mend it: name another folder with --out.";
  const move = "To mend it: move what is yours elsewhere and delete the rest, or name another folder with --out.";

  it("a file of somebody's", async () => {
    expect(await refusal((out) => writeFile(join(out, "thesis.txt"), "ten years"))).toBe(`out: The output folder holds files that Keyworthy did not write, and it would be replaced as a whole. Expected an empty or new folder, or an earlier result; found thesis.txt. ${mend}`);
  });

  it("a file of somebody's in a folder of ours", async () => {
    expect(await refusal((out) => writeFile(join(out, "fleet", "thesis.txt"), "ten years"))).toContain("found fleet/thesis.txt.");
  });

  it("an empty folder of somebody's", async () => {
    expect(await refusal(async (out) => { await mkdir(join(out, "photos")); })).toContain("found photos.");
  });

  it("a folder that has the name of a file of ours", async () => {
    expect(await refusal(async (out) => {
      await rm(join(out, "report.html"));
      await mkdir(join(out, "report.html"));
      await writeFile(join(out, "report.html", "x"), "mine");
    })).toContain("found report.html/x.");
  });

  it("a link that has the name of a file of ours", async () => {
    expect(await refusal(async (out) => {
      await rm(join(out, "report.html"));
      await symlink("/etc/hostname", join(out, "report.html"));
    })).toContain("found report.html changed.");
  });

  it("a file of ours that somebody wrote in", async () => {
    expect(await refusal((out) => writeFile(join(out, "report.html"), "first, and a remark of mine"))).toBe(`out: The earlier result was changed since Keyworthy wrote it, and it would be replaced as a whole. Expected files as they were written; found report.html changed. ${move}`);
  });

  it("the result of another site", async () => {
    expect(await refusal(() => Promise.resolve(), { ...otter, sites: ["Heron Lane"] })).toBe(`out: The output folder holds another result. Expected the result of "Heron Lane" for 2026-10; found the result of "Otter Cottage" for 2026-10. ${mend}`);
  });

  it("the result of another period", async () => {
    expect(await refusal(() => Promise.resolve(), { ...otter, period: "2026-11" })).toContain('Expected the result of "Otter Cottage" for 2026-11; found the result of "Otter Cottage" for 2026-10.');
  });

  it("a comparison of other sites, and a result in the place of a comparison", async () => {
    expect(await refusal(() => Promise.resolve(), { result: "fleet", sites: ["Otter Cottage"], period: null })).toContain('Expected a comparison of "Otter Cottage"; found the result of "Otter Cottage" for 2026-10.');
  });

  it("a folder of which nothing says who wrote it", async () => {
    expect(await refusal((out) => rm(join(out, ".written.json")))).toBe(`out: The output folder holds files, and nothing says that Keyworthy wrote them; it would be replaced as a whole. Expected an empty or new folder, or an earlier result as it was written; found fleet/fleet.json, report.html, rows.csv. ${move}`);
  });

  it("a folder whose list somebody broke", async () => {
    expect(await refusal((out) => writeFile(join(out, ".written.json"), "{}"))).toContain("nothing says that Keyworthy wrote them");
  });

  it("a file, and a link to a folder", async () => {
    await writeFile(join(place, "file"), "x");
    await expect(refuseForeign(join(place, "file"), otter)).rejects.toThrow(/file: The output folder is a file/);
    await mkdir(join(place, "far"));
    await symlink(join(place, "far"), join(place, "near"));
    await expect(refuseForeign(join(place, "near"), otter)).rejects.toThrow(/near: The output folder is a link, which would be replaced\. Expected a folder; found a link\. To mend it: name the folder it leads to with --out\./);
  });

  it("but files of ours that somebody deleted are no loss, and one that people fill in may be changed", async () => {
    const out = await writtenTo("first");
    await rm(join(out, "report.html"));
    await writeFile(join(out, "rows.csv"), "filled in");
    await refuseForeign(out, { ...otter, mayChange: ["rows.csv"] });
    // Not known yet: any period.
    await refuseForeign(out, { ...otter, period: null, mayChange: ["rows.csv"] });
  });

  it("a comparison grows by sites and months", async () => {
    await writtenTo("first", { result: "fleet", sites: ["a", "b"], period: null });
    const out = await writtenTo("second", { result: "fleet", sites: ["b", "c"], period: null });
    await expect(refuseForeign(out, { result: "fleet", sites: ["d"], period: null })).rejects.toThrow(/Expected a comparison of "d"; found a comparison of "b", "c"\./);
  });
});

/** Every file below a folder with its content, links and empty folders told apart. */
async function treeOf(folder: string): Promise<Record<string, string>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const pairs = entries.map(async (entry): Promise<[string, string]> => [join(entry.parentPath, entry.name), entry.isFile() ? await readFile(join(entry.parentPath, entry.name), "utf8") : entry.isDirectory() ? "folder" : "link"]);
  return Object.fromEntries((await Promise.all(pairs)).toSorted(([a], [b]) => (a < b ? -1 : 1)));
}
