import { spawnSync } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { asideOf, makingPrefix, noteUnfinished, sweepNoted, sweepUnfinished } from "../../src/commands/unfinished.js";

/** The number of a process that has just ended. */
const dead = spawnSync(process.execPath, ["-e", ""]).pid;
const host = hostname().replace(/[^A-Za-z0-9.]/g, "_");
const deadMaking = `.keyworthy-making-${host}-${dead}-0123abcd-Xy12Zw`;

async function placeWith(...names: string[]): Promise<string> {
  const place = await mkdtemp(join(tmpdir(), "keyworthy-unfinished-"));
  for (const name of names) {
    await mkdir(join(place, name));
    await writeFile(join(place, name, "findings.json"), name);
  }
  return place;
}

describe("what a killed run left behind", () => {
  it("is removed, and nothing else", async () => {
    const others = [`${makingPrefix()}abcdef`, `.keyworthy-making-elsewhere-${dead}-0123abcd-Xy12Zw`, ".keyworthy-making-mine", "2026-10"];
    const place = await placeWith(deadMaking, ...others);
    await sweepUnfinished(place);
    expect((await readdir(place)).toSorted()).toEqual(others.toSorted());
  });

  it("an earlier result that had stepped aside goes back to its place", async () => {
    const aside = asideOf(deadMaking, "/anywhere/2026-10");
    const place = await placeWith(deadMaking, aside);
    await sweepUnfinished(place);
    expect(await readdir(place)).toEqual(["2026-10"]);
    expect(await readFile(join(place, "2026-10", "findings.json"), "utf8")).toBe(aside);
  });

  it("but not over a new one", async () => {
    const place = await placeWith(asideOf(deadMaking, "/anywhere/2026-10"), "2026-10");
    await writeFile(join(place, "2026-10", ".written.json"), "{}");
    await sweepUnfinished(place);
    expect(await readdir(place)).toEqual(["2026-10"]);
    expect(await readFile(join(place, "2026-10", "findings.json"), "utf8")).toBe("2026-10");
  });

  it("and is kept where somebody put something of their own into its place: it may be the only result, with answers in it", async () => {
    const aside = asideOf(deadMaking, "/anywhere/2026-10");
    const place = await placeWith(aside, "2026-10");
    await sweepUnfinished(place);
    expect((await readdir(place)).toSorted()).toEqual([aside, "2026-10"]);
  });

  it("a dead process of this one's number is told from this one", async () => {
    const place = await placeWith(`.keyworthy-making-${host}-${process.pid}-00000000-Xy12Zw`, `${makingPrefix()}abcdef`);
    await sweepUnfinished(place);
    expect(await readdir(place)).toEqual([`${makingPrefix()}abcdef`]);
  });
});

describe("a note of an unfinished folder", () => {
  it("that a dead process left leads to what it left elsewhere, and to nothing else", async () => {
    const elsewhere = await placeWith(deadMaking, "2026-10");
    const beside = await placeWith();
    await writeFile(join(beside, `.keyworthy-making-${host}-${dead}-0123abcd-0a1b2c`), elsewhere);
    await writeFile(join(beside, `.keyworthy-making-${host}-${dead}-0123abcd-0a1b2d`), "/");
    await writeFile(join(beside, "site.yaml"), "site: Otter Cottage\n");
    const own = await noteUnfinished(beside, elsewhere);
    await sweepNoted(beside);
    expect(await readdir(elsewhere)).toEqual(["2026-10"]);
    expect((await readdir(beside)).map((name) => name.slice(0, 17))).toEqual([".keyworthy-making", "site.yaml"]);
    await own();
    expect(await readdir(beside)).toEqual(["site.yaml"]);
  });

  it("is left out where nothing can be written", async () => {
    const take = await noteUnfinished("/proc/nowhere", "/tmp");
    await take();
    await sweepNoted("/proc/nowhere");
  });
});
