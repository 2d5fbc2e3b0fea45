import { cp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { findingsSchema } from "../../src/result/findings.js";
import { fleetSchema } from "../../src/result/fleet.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

const SITES = 4;
const siteName = (i: number): string => `Otter Cottage ${i}`;
const files = Object.fromEntries(
  Array.from({ length: SITES }, (_, i) => [
    [`s${i}/site.yaml`, tinySite.replace("Otter Cottage", siteName(i))],
    // One of the meters overlooks every visit.
    [`s${i}/log.csv`, i === 2 ? tinyLog().replaceAll("Z,wall,20", "Z,wall,118") : tinyLog()],
  ]).flat(),
) as Record<string, string>;
const siteFiles = Array.from({ length: SITES }, (_, i) => `s${i}/site.yaml`);

async function run(folder: string, ...words: string[]): Promise<{ status: number; said: string; told: string }> {
  const around = listening(folder);
  return { status: await runProgram(words, around), said: around.said(), told: around.told() };
}

const text = (...path: string[]): Promise<string> => readFile(join(...path), "utf8");
/** Times of making differ between runs; nothing else may. */
const timeless = (json: string): string => json.replace(/"at": "[^"]*"/, '"at": ""');
/** A part does not know where its fleet page will lie: its reports have no link to it. */
const FLEET_LINK = '<a href="../_fleet/fleet.html">compared with others</a>';
const unlinked = (written: string): string => timeless(written).replace(FLEET_LINK, "").replace(/"report.html": "[0-9a-f]+"/, '"report.html": ""');

describe("the bays of one site", () => {
  it("are followed from month to month where earlier audits are given, and show on which days a contact flickered", async () => {
    const folder = await folderWith({});
    const sample = (name: string): string => join(process.cwd(), "sample-data", name);
    const { status } = await run(folder, "audit", sample("yard/site.yaml"), "--month", "2026-03", "--earlier", sample("yard-earlier"), "--pages", "none", "--out", "yard", "--quiet");
    expect(status).toBe(3);
    const fleet = fleetSchema.parse(JSON.parse(await text(folder, "yard/fleet/fleet.json")));
    expect(fleet.parts.map(({ period }) => period.label)).toEqual(["2026-01", "2026-02", "2026-03"]);
    const gate = fleet.orders.find(({ place }) => place === "gate-rail")!;
    expect(gate).toMatchObject({ mode: "chattering", state: "open", monthsOpen: 3, firstSeen: "2026-01-01" });
    const flickers = gate.strip[0]!.flickers;
    expect(flickers).toHaveLength(31);
    expect(gate.reason).toContain(`within a minute ${flickers.reduce((sum, one) => sum + one, 0)} times`);
    expect(await text(folder, "yard/fleet/fleet.html")).toMatch(/<path class="flickers" d="M0\.42 3h/);
  }, 60_000);
});

describe("many sites", () => {
  it("give a page each and a fleet result beside them, which parts and combine give too, byte for byte", async () => {
    const folder = await folderWith(files);
    const whole = await run(folder, "audit", ...siteFiles, "--out", "whole");
    expect(whole.status).toBe(3);
    expect(whole.said).toContain("Fleet of 4 sites: 4 bays, 16 signals, 4 audits");
    expect((await readdir(join(folder, "whole"))).toSorted()).toEqual(["_fleet", ...Array.from({ length: SITES }, (_, i) => `otter-cottage-${i}`)]);
    expect(fleetSchema.parse(JSON.parse(await text(folder, "whole/_fleet/fleet.json"))).parts).toHaveLength(SITES);

    for (let part = 1; part <= 16; part += 1) expect((await run(folder, "audit", ...siteFiles, "--part", `${part}/16`, "--out", "parts", "--quiet")).told).toBe("");
    for (let i = 0; i < SITES; i += 1) {
      const name = `otter-cottage-${i}`;
      for (const file of await readdir(join(folder, "whole", name))) expect([name, file, unlinked(await text(folder, "parts", name, file))]).toEqual([name, file, unlinked(await text(folder, "whole", name, file))]);
    }
    expect(await text(folder, "whole/otter-cottage-0/report.html")).toContain(FLEET_LINK);
    expect(await text(folder, "whole/_fleet/sites/otter-cottage-0.html").catch(() => text(folder, "whole/_fleet/sites/otter-cottage-2.html"))).toContain("../../otter-cottage-");
    expect((await run(folder, "combine", "parts", "--out", "joined")).status).toBe(3);
    for (const file of ["fleet.json", "bays.csv", "signals.csv", "work-orders.csv", "fleet.html"]) expect(timeless(await text(folder, "joined", file))).toBe(timeless(await text(folder, "whole/_fleet", file)));
  });

  it("do not stop one another: what is wrong with one is told at the end, and the others are written", async () => {
    const folder = await folderWith({ ...files, "s1/log.csv": "at,what,says\n" });
    const { status, told } = await run(folder, "audit", ...siteFiles, "--out", "whole", "--quiet");
    expect(status).toBe(2);
    expect(told).toContain("s1/site.yaml");
    expect((await readdir(join(folder, "whole"))).toSorted()).toEqual(["_fleet", ...[0, 2, 3].map((i) => `otter-cottage-${i}`)]);
    const fleet = fleetSchema.parse(JSON.parse(await text(folder, "whole/_fleet/fleet.json")));
    expect(fleet.absent).toEqual([{ site: siteName(1), why: "The exports hold no readable reading" }]);
    expect(fleet.say.headline).toContain("One of 4 sites is missing.");
    expect(told).toContain(`missing: ${siteName(1)}`);
  });

  it("do not stop one another where a site file is wrong, and the round says who is missing", async () => {
    const folder = await folderWith({ ...files, "s1/site.yaml": files["s1/site.yaml"]!.replace("timezone:", "timezoone:") });
    const { status, told } = await run(folder, "audit", ...siteFiles, "--out", "whole", "--quiet");
    expect(status).toBe(2);
    expect(told).toContain("s1/site.yaml:");
    const fleet = fleetSchema.parse(JSON.parse(await text(folder, "whole/_fleet/fleet.json")));
    expect(fleet.belongs).toEqual([0, 1, 2, 3].map(siteName));
    expect(fleet.absent.map(({ site }) => site)).toEqual([siteName(1)]);
    expect(fleet.say.headline).not.toContain("nothing stands out.\n");
  });

  it("may not share a name, also across parts", async () => {
    const folder = await folderWith({ ...files, "s3/site.yaml": files["s0/site.yaml"]! });
    const { status, told } = await run(folder, "audit", ...siteFiles, "--part", "1/4", "--out", "parts", "--quiet");
    expect(status).toBe(2);
    expect(told).toContain('The site "Otter Cottage 0" has the same name as that of ');
  });
});

describe("sites whose names look alike as folders", () => {
  it("have a suffix each, the same in every part, and overwrite nothing", async () => {
    const named = (name: string): string => files["s0/site.yaml"]!.replace("site: Otter Cottage 0", `site: "${name}"`);
    const folder = await folderWith({ ...files, "s0/site.yaml": named("Hérons' Lane"), "s1/site.yaml": named("herons, lane"), "s2/site.yaml": named("???"), "s3/site.yaml": named("!!!") });
    for (const part of ["1/2", "2/2"]) expect((await run(folder, "audit", ...siteFiles, "--part", part, "--out", "parts", "--quiet")).status).toBe(3);
    expect((await readdir(join(folder, "parts"))).toSorted()).toEqual([/^herons-lane-[0-9a-f]{6}$/, /^herons-lane-[0-9a-f]{6}$/, /^site-[0-9a-f]{6}$/, /^site-[0-9a-f]{6}$/].map((one): unknown => expect.stringMatching(one)));
  });
});

describe("keyworthy combine", () => {
  it("names a broken part, and leaves it out only when asked to", async () => {
    const folder = await folderWith(files);
    await run(folder, "audit", ...siteFiles, "--out", "parts", "--quiet");
    await writeFile(join(folder, "parts/otter-cottage-1/counts.json"), '{"schema": "keyworthy/counts/0"}');
    await rm(join(folder, "parts/otter-cottage-3/counts.json"));
    const refused = await run(folder, "combine", "parts", "--out", "joined");
    expect(refused.status).toBe(2);
    expect(refused.told).toBe(
      "parts/otter-cottage-1/counts.json: The counts of the finished audit have another schema. Expected keyworthy/counts/1; found keyworthy/counts/0. To mend it: audit this site and period again, or leave it out with --leave-out-broken.\n" +
        "parts/otter-cottage-3/counts.json: The finished audit has no counts that can be read. To mend it: audit this site and period again, or leave it out with --leave-out-broken.\n",
    );
    expect(await readdir(folder)).not.toContain("joined");
    await run(folder, "combine", "parts", "--out", "joined", "--leave-out-broken", "--quiet");
    const fleet = fleetSchema.parse(JSON.parse(await text(folder, "joined/fleet.json")));
    expect(fleet.parts).toHaveLength(2);
    expect(fleet.leftOut).toEqual([
      { what: "parts/otter-cottage-1/counts.json", why: "The counts of the finished audit have another schema" },
      { what: "parts/otter-cottage-3/counts.json", why: "The finished audit has no counts that can be read" },
    ]);
  });

  it("says which sites of the round are missing, and never that nothing stands out of an incomplete one", async () => {
    const folder = await folderWith(files);
    for (const part of [1, 2, 4]) await run(folder, "audit", ...siteFiles, "--part", `${part}/4`, "--out", "parts", "--quiet");
    const joined = await run(folder, "combine", "parts", "--out", "joined");
    const fleet = fleetSchema.parse(JSON.parse(await text(folder, "joined/fleet.json")));
    expect(fleet.belongs).toEqual([0, 1, 2, 3].map(siteName));
    expect(fleet.absent).toEqual([{ site: siteName(2), why: "there is no audit of it" }]);
    expect(fleet.say.headline).toMatch(/^One of 4 sites is missing\./);
    expect(joined.said).toContain("not a whole round: 1 of 4 sites is missing");
    expect(await text(folder, "joined/fleet.html")).toContain("there is no audit of it");
    const quiet = await run(folder, "combine", "parts", "--out", "joined", "--quiet");
    expect(quiet.told).toContain("missing: Otter Cottage 2: there is no audit of it");
  });

  it("takes who belongs, and what is acceptable of a sensor, from a fleet file", async () => {
    const folder = await folderWith({ ...files, "fleet.yaml": `fleet: Cottages\nsites: [${[0, 1, 2, 3, 9].map((i) => `"${siteName(i)}"`).join(", ")}]\nlimits: { missed_share: 0.9, late: 1h }\n` });
    await run(folder, "audit", ...siteFiles, "--out", "parts", "--quiet");
    await run(folder, "combine", "parts", "--fleet", "fleet.yaml", "--out", "joined", "--quiet");
    const fleet = fleetSchema.parse(JSON.parse(await text(folder, "joined/fleet.json")));
    expect(fleet.absent).toEqual([{ site: siteName(9), why: "there is no audit of it" }]);
    expect(fleet.say.found).toContain("60 min late");
    await writeFile(join(folder, "fleet.yaml"), "fleet: Cottages\nsites: []\nlimts: {}\n");
    expect((await run(folder, "combine", "parts", "--fleet", "fleet.yaml", "--out", "joined")).told).toMatch(/fleet\.yaml:\d+:\d+: /);
  });

  it("counts the same audit once and refuses two for the same time", async () => {
    const folder = await folderWith(files);
    await run(folder, "audit", ...siteFiles.slice(0, 2), "--out", "a", "--quiet");
    await cp(join(folder, "a"), join(folder, "copy"), { recursive: true });
    await run(folder, "combine", "a", "copy", "--out", "joined", "--quiet");
    expect(fleetSchema.parse(JSON.parse(await text(folder, "joined/fleet.json"))).parts).toHaveLength(2);
    await run(folder, "audit", siteFiles[0]!, "--from", "2026-06-02", "--out", "b", "--quiet");
    const twice = await run(folder, "combine", "a", "b", "--out", "twice");
    expect(twice.status).toBe(2);
    expect(twice.told).toContain("Two audits of Otter Cottage 0 cover the same time and would be counted twice.");
  });

  it("says where there is nothing", async () => {
    const folder = await folderWith({ "empty/readme.txt": "" });
    expect((await run(folder, "combine", "empty", "--out", "x")).told).toBe("empty: There is no finished audit in this folder or below it. To mend it: name the folder an audit was written to.\n");
  });
});

describe("months of a site", () => {
  const monthly = { "site.yaml": tinySite, "log.csv": tinyLog() };
  const halves = [["--from", "2026-06-01", "--to", "2026-06-04"], ["--from", "2026-06-04", "--to", "2026-06-08"]] as const;
  const second = "reports/otter-cottage/2026-06-04_2026-06-07";

  it("are found beside one another, and the evidence of the same rule adds up", async () => {
    const folder = await folderWith(monthly);
    for (const half of halves) await run(folder, "audit", "site.yaml", ...half, "--quiet");
    const findings = findingsSchema.parse(JSON.parse(await text(folder, second, "findings.json")));
    expect(findings.months!.earlier).toHaveLength(1);
    expect(findings.rules[0]!.cumulated).toMatchObject({ firings: { count: 7 }, periods: [{ firings: { count: 3 } }, { firings: { count: 4 } }] });
    expect(findings.rules[0]!.sentence).toContain("2 periods of the same rule.");
    // Once more: the result that is replaced is no earlier one.
    await run(folder, "audit", "site.yaml", ...halves[1], "--quiet");
    expect(findingsSchema.parse(JSON.parse(await text(folder, second, "findings.json")))).toEqual(findings);
    await run(folder, "audit", "site.yaml", ...halves[1], "--alone", "--quiet");
    expect(findingsSchema.parse(JSON.parse(await text(folder, second, "findings.json")))).toMatchObject({ months: null, rules: [{ cumulated: null }] });
  });

  it("start anew with a changed rule, and the findings say so", async () => {
    const folder = await folderWith(monthly);
    await run(folder, "audit", "site.yaml", ...halves[0], "--quiet");
    await writeFile(join(folder, "site.yaml"), tinySite.replace("within: 10min", "within: 9min"));
    await run(folder, "audit", "site.yaml", ...halves[1], "--quiet");
    const findings = findingsSchema.parse(JSON.parse(await text(folder, second, "findings.json")));
    expect(findings.rules[0]!.cumulated).toBeNull();
    expect(findings.months!.startedAnew[0]!.text).toContain("The rule “unlock on arrival” was different");
  });

  it("can be thinned to counts, which later months compare with just the same", async () => {
    const folder = await folderWith(monthly);
    await run(folder, "audit", "site.yaml", ...halves[0], "--quiet");
    await run(folder, "audit", "site.yaml", ...halves[1], "--quiet");
    const before = await text(folder, second, "findings.json");
    expect((await run(folder, "thin", "reports", "--before", "2026-07", "--show")).said).toBe("would thin reports/otter-cottage/2026-06-01_2026-06-03\nwould thin reports/otter-cottage/2026-06-04_2026-06-07\n");
    expect((await run(folder, "thin", "reports/otter-cottage/2026-06-01_2026-06-03", "--before", "2026-07")).said).toBe("thinned reports/otter-cottage/2026-06-01_2026-06-03\n");
    expect(await readdir(join(folder, "reports/otter-cottage/2026-06-01_2026-06-03"))).toEqual([".written.json", "counts.json"]);
    await run(folder, "audit", "site.yaml", ...halves[1], "--quiet");
    expect(await text(folder, second, "findings.json")).toBe(before);
    expect((await run(folder, "thin", "reports", "--before", "2026-06")).said).toBe("no audit in reports ended before 2026-06\n");
    expect((await run(folder, "thin", "reports", "--before", "June")).told).toBe("--before June is not a month. Expected a month such as 2026-06; found June.\n");
  });

  it("are thinned beside one that holds something of somebody's, which stays whole, is named, and is never said to be thinned", async () => {
    const folder = await folderWith(monthly);
    const first = "reports/otter-cottage/2026-06-01_2026-06-03";
    for (const half of halves) await run(folder, "audit", "site.yaml", ...half, "--quiet");
    await writeFile(join(folder, first, "mine.txt"), "mine");
    const before = await readdir(join(folder, first));
    for (const [words, says] of [[["--show"], "would thin"], [[], "thinned"]] as const) {
      const { status, said, told } = await run(folder, "thin", "reports", "--before", "2026-07", ...words);
      expect([status, said]).toEqual([2, `${says} ${second}\n`]);
      expect(told).toBe(`${first}: The output folder holds files that Keyworthy did not write, and it would be replaced as a whole. Expected an empty or new folder, or an earlier result; found mine.txt. To mend it: move what is yours elsewhere, and thin again.\n`);
    }
    expect(await readdir(join(folder, first))).toEqual(before);
    expect(await readdir(join(folder, second))).toEqual([".written.json", "counts.json"]);
  });
});

describe("what is kept", () => {
  it("results never hold a position, and set-aside.csv repeats no row with --forget-rows", async () => {
    const site = tinySite
      .replace("timezone: Europe/London", "timezone: Europe/London\nhome: { latitude: 50.12345, longitude: -3.54321 }")
      .replace("sources:", "sources:\n  places: { files: places.csv, time: { column: at, written: iso }, signal: who, latitude: lat, longitude: lon }")
      .replace("rules:", "  place: { on: ida, source: places, channel: ida, kind: position, radius: 150m }\nrules:");
    const places = `at,who,lat,lon\n${Array.from({ length: 7 }, (_, day) => `2026-06-0${day + 1}T09:00:00Z,ida,50.66778,-3.11229\n2026-06-0${day + 1}T18:00:00Z,ida,50.12346,-3.54322`).join("\n")}\n2026-06-07T18:00:01Z,ida,50.99887,north\n`;
    const folder = await folderWith({ "site.yaml": site, "log.csv": tinyLog(), "places.csv": places });
    await run(folder, "audit", "site.yaml", "--out", "kept", "--forget-rows", "--parquet", "--quiet");
    const positions = /50\.12345|3\.54321|50\.66778|3\.11229|50\.12346|3\.54322|50\.99887/;
    for (const file of await readdir(join(folder, "kept"))) expect([file, positions.test((await readFile(join(folder, "kept", file))).toString("latin1"))]).toEqual([file, false]);
    expect(await text(folder, "kept/set-aside.csv")).toMatch(/^file,line,reason,detail,raw\r\nplaces\.csv,16,[^,]+,,\r\n$/);
    await run(folder, "audit", "site.yaml", "--out", "kept", "--quiet");
    expect(await text(folder, "kept/set-aside.csv")).toContain("withheld: this source holds positions");
    expect(await text(folder, "kept/set-aside.csv")).not.toMatch(positions);
  });
});
