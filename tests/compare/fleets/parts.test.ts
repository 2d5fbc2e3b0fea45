import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it, vi } from "vitest";
import { runProgram } from "../../../src/commands/program.js";
import type { Surroundings } from "../../../src/commands/surroundings.js";
import { findingsSchema, type Findings } from "../../../src/result/findings.js";
import { fleetSchema, type Fleet } from "../../../src/result/fleet.js";
import { randomStream } from "../../../src/simulate/random.js";
import { folderWith, listening } from "../../commands/tiny-site.js";
import { variedSite } from "./varied-sites.js";

/*
 * One run over many sites, and the same sites in sixteen parts on "two machines" at other times, put together by `combine`: the fleet result
 * and every site's findings are the same, byte for byte but for the time of making. All of it through the program's own command line.
 * Only the drawing of each site's report.html, which takes most of the time, is left out here; that a part's report is the whole
 * run's, too, is tested on four sites in tests/commands/fleet.test.ts.
 */
vi.mock("../../../src/report/render.js", () => ({ renderReport: () => Promise.resolve("<!doctype html>\n") }));

const SITES = 36;
const PARTS = 16;
const sites = Array.from({ length: SITES }, (_, i) => variedSite(i));
const siteFiles = sites.map(({ file }) => file);
const fleetFiles = ["fleet.json", "bays.csv", "signals.csv", "work-orders.csv", "fleet.html"] as const;

let folder = "";
let wholeStatus = 0;
let clock = Date.UTC(2026, 6, 1);

/** Every run at another time. */
async function run(...words: string[]): Promise<{ status: number; told: string }> {
  clock += 61_001;
  const now = clock;
  const around: Surroundings & { told: () => string } = { ...listening(folder), now: () => now };
  return { status: await runProgram(words, around), told: around.told() };
}

const madeAt = /2026-07-01T\d\d:\d\d:\d\d\.\d{3}Z|Wed 1 Jul 2026, \d\d:\d\d:\d\d/g;
/** Times of making differ between runs, and all lie on the one day on which no site has a reading; nothing else may differ. */
const timeless = (text: string): string => text.replace(madeAt, "MADE");
const text = async (...path: string[]): Promise<string> => timeless(await readFile(join(folder, ...path), "utf8"));
const fleetOf = async (place: string): Promise<string[]> => Promise.all(fleetFiles.map((file) => text(place, file)));
const shuffled = (list: readonly string[], seed: number): string[] => {
  const random = randomStream(seed, "order of parts");
  return list.map((one) => ({ one, at: random() })).toSorted((a, b) => a.at - b.at).map(({ one }) => one);
};

describe("sixteen parts of many sites", () => {
  let whole: string[] = [];
  let partFolders: string[] = [];

  beforeAll(async () => {
    folder = await folderWith(Object.assign({}, ...sites.map(({ files }) => files)) as Record<string, string | Uint8Array>);
    const one = await run("audit", ...siteFiles, "--out", "whole", "--quiet");
    // The sites are of four months, and that is told; nothing else is.
    expect(one.told.trimEnd().split("\n").slice(1).every((line) => /^missing: .*: its last audit is of /.test(line))).toBe(true);
    wholeStatus = one.status;
    // Out of order, on two machines, each told of the sites in an order of its own.
    for (const part of shuffled(Array.from({ length: PARTS }, (_, i) => String(i + 1)), 1)) {
      const { told } = await run("audit", ...shuffled(siteFiles, Number(part)), "--part", `${part}/${PARTS}`, "--out", Number(part) % 2 === 0 ? "even" : "odd", "--quiet");
      expect(told).toBe("");
    }
    whole = await fleetOf("whole/_fleet");
    partFolders = (await Promise.all(["even", "odd"].map(async (machine) => (await readdir(join(folder, machine))).map((site) => `${machine}/${site}`)))).flat();
  }, 60_000);

  it("hold every site once, and no fleet result of their own", () => {
    expect(partFolders).toHaveLength(SITES);
    expect(partFolders.filter((name) => name.endsWith("_fleet"))).toEqual([]);
  });

  it("find in every site what the single run finds, to the byte, the counts and tables too", async () => {
    for (const place of partFolders) {
      const name = place.split("/")[1]!;
      for (const file of ["findings.json", "counts.json", "signals.csv", "episodes.csv", "firings.csv", "set-aside.csv"]) {
        expect(await text(place, file), `${place}/${file}`).toBe(await text("whole", name, file));
      }
    }
  });

  it("are combined into the fleet result of the single run, to the byte, with the same exit status", async () => {
    expect((await run("combine", "even", "odd", "--out", "joined", "--quiet")).status).toBe(wholeStatus);
    expect(await fleetOf("joined")).toEqual(whole);
  });

  it("are combined into the same whatever the order of the folders, and with parts given twice", async () => {
    for (const seed of [1, 2, 3]) {
      await run("combine", ...shuffled(partFolders, seed), ...partFolders.slice(0, seed), "--out", `shuffled-${seed}`, "--quiet");
      expect(await fleetOf(`shuffled-${seed}`)).toEqual(whole);
    }
  });

  it("are combined into the same from a folder that holds a fleet result beside its sites; a fleet result alone is no part", async () => {
    await run("combine", "odd", "--out", "odd/_fleet", "--quiet");
    await run("combine", "even", "odd", "--out", "again", "--quiet");
    expect(await fleetOf("again")).toEqual(whole);
    await run("combine", "whole", "--out", "anew", "--quiet");
    expect(await fleetOf("anew")).toEqual(whole);
    expect(await run("combine", "joined", "--out", "nothing", "--quiet")).toEqual({ status: 2, told: "joined: There is no finished audit in this folder or below it. To mend it: name the folder an audit was written to.\n" });
  });

  it("are missed when one is missing: the comparison could not pass by saying nothing", async () => {
    await run("combine", ...partFolders.slice(1), "--out", "short", "--quiet");
    const short = await fleetOf("short");
    for (const [i, file] of fleetFiles.entries()) if (file !== "work-orders.csv") expect(short[i], file).not.toBe(whole[i]);
  });
});

describe("the sites it is tested on", () => {
  it("are of all the kinds that are promised", async () => {
    const folders = (await readdir(join(folder, "whole"))).filter((name) => name !== "_fleet");
    const findings = await Promise.all(folders.map(async (name) => findingsSchema.parse(JSON.parse(await readFile(join(folder, "whole", name, "findings.json"), "utf8")))));
    expect(findings.map(({ site }) => site.name).toSorted()).toEqual(sites.map(({ name }) => name).toSorted());
    const count = (holds: (one: Findings) => boolean): number => findings.filter(holds).length;
    expect(count(({ bays }) => bays.length === 3)).toBe(12);
    expect(count(({ bays }) => bays.length === 1)).toBe(24);
    expect(count(({ rules }) => rules.length === 0)).toBe(9);
    expect(count(({ rules }) => rules.length === 2)).toBeGreaterThan(3);
    expect(count(({ ledger }) => ledger.some(({ setAside, duplicate }) => setAside > 5 && duplicate > 0))).toBeGreaterThan(5);
    expect(count(({ diary }) => diary.entries > 0)).toBeGreaterThan(3);
    expect(count(({ clocks }) => clocks.some(({ offset }) => offset.value !== null))).toBe(18);
    expect(new Set(findings.map(({ period }) => period.label)).size).toBeGreaterThan(3);
    expect(new Set(findings.map(({ site }) => site.timeZone)).size).toBe(3);
    expect(new Set(findings.flatMap(({ signals }) => signals.map(({ model, firmware }) => `${model} ${firmware}`))).size).toBeGreaterThan(5);
    const fleet: Fleet = fleetSchema.parse(JSON.parse(await readFile(join(folder, "whole/_fleet/fleet.json"), "utf8")));
    expect(fleet.parts).toHaveLength(SITES);
    expect(fleet.signals.some(({ faults }) => faults.count > 0)).toBe(true);
  });
});
