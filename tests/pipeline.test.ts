import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { audit, auditSite, countsOf, InputError, loadRules, loadSite, problemText, type Findings, type Problem, type SetAsideRow } from "../src/index.js";
import { folderWith, tinyLog, tinySite } from "./commands/tiny-site.js";

const may = tinyLog().replaceAll("2026-06-", "2026-05-");
const june = tinyLog().replace(/^.*\n/, "");
/** A row of a channel that the site file does not name. */
const stray = "2026-06-07T19:00:00Z,attic,1\n";

describe("an audit called from a program", () => {
  let siteFile: string;
  let whole: Findings;
  beforeAll(async () => {
    siteFile = join(await folderWith({ "site.yaml": tinySite, "log.csv": `${may}${june}${stray}` }), "site.yaml");
    whole = await audit(siteFile);
  });

  it("needs nothing but a site file: the whole history, made now, alone", () => {
    expect(whole.period.label).toBe("2026-05-01_2026-06-07");
    expect(Math.abs(whole.made.at - Date.now())).toBeLessThan(600_000);
    expect([whole.months, whole.tried]).toEqual([null, []]);
    expect(whole.rules.map(({ name, verdict }) => `${verdict}: ${name}`)).toEqual(["not proven yet: unlock on arrival"]);
  });

  it("takes a month as plain text, the same as in its longer form", async () => {
    const plain = await audit(siteFile, { period: "2026-06", madeAt: 0 });
    expect(plain.period.label).toBe("2026-06");
    expect(plain).toEqual(await audit(siteFile, { period: { form: "month", month: "2026-06" }, madeAt: 0 }));
  });

  it("tells only what is asked for: rows set aside without progress, or progress alone", async () => {
    const rows: SetAsideRow[] = [];
    await audit(siteFile, { watch: { onSetAside: (row) => rows.push(row) } });
    expect(rows.map(({ file, reason }) => `${file}: ${reason}`)).toEqual(["log.csv: channel not in the site file"]);
    let read = 0;
    await audit(siteFile, { watch: { onProgress: (progress) => (read = progress.rows) } });
    expect(read).toBe(149);
  });

  it("compares earlier months, and replays further rules of a file beside the site's own", async () => {
    const more = join(siteFile, "..", "more.yaml");
    await writeFile(more, "rules:\n  - { name: unlock by phone, act: unlock, when: { signal: phone, turned: here, within: 1min } }\n");
    const site = await loadSite(siteFile);
    const earlier = [countsOf(await auditSite(site, { period: "2026-05" }))];
    const findings = await auditSite(site, { period: "2026-06", earlier, tried: await loadRules(site, more) });
    expect(findings.months?.earlier.map(({ label }) => label)).toEqual(["2026-05"]);
    expect(findings.tried.map(({ name }) => name)).toEqual(["unlock by phone"]);
  });

  it("counts the variants that finished audits tried on the same history", async () => {
    const more = join(siteFile, "..", "variant.yaml");
    await writeFile(more, "rules:\n  - { name: unlock by rail, act: unlock, when: { signal: rail, turned: open, within: 1min } }\n");
    const site = await loadSite(siteFile);
    const before = [countsOf(await auditSite(site, { tried: await loadRules(site, more) }))];
    const digests = (findings: Findings): number => findings.judged.length;
    expect(digests(await auditSite(site, { judgedBefore: before }))).toBe(digests(whole) + 1);
  });
});

describe("a wrong period", () => {
  const problemsOf = async (...[siteFile, options]: Parameters<typeof audit>): Promise<readonly Problem[]> =>
    audit(siteFile, options).then(
      () => [],
      (error: unknown) => (error instanceof InputError ? error.problems : Promise.reject(error as Error)),
    );

  it.each([
    ["June", "`period` June is not a month. Expected a month such as 2026-10; found June."],
    [{ form: "range", from: "noon", to: "2026" }, "`period.from` noon is not a time. Expected a day such as 2026-10-01, or a time such as 2026-10-01T06:00; found noon.\n`period.to` 2026 is not a time. Expected a day such as 2026-10-01, or a time such as 2026-10-01T06:00; found 2026."],
    [{ form: "range", from: "2026-06-05", to: "2026-06-02" }, "The period ends before it begins. Expected `period.from` earlier than `period.to`; found `period.from` 2026-06-05 `period.to` 2026-06-02."],
  ] as const)("such as %j is refused in the library's own words, before any export is read", async (period, message) => {
    // The export is missing: had it been looked for, that would be the problem.
    const siteFile = join(await folderWith({ "site.yaml": tinySite }), "site.yaml");
    const problems = await problemsOf(siteFile, { period });
    expect(problems.map(problemText).join("\n")).toBe(message);
    expect(new Set(problems.map(({ code }) => code))).toEqual(new Set(["period-unreadable"]));
  });

  it.each([
    ["2025-01", "readings between 2025-01-01 00:00 +00:00 and 2025-02-01 00:00 +00:00"],
    [{ form: "range", from: null, to: "2026-05-01" }, "readings before 2026-05-01 00:00 +01:00"],
    [{ form: "range", from: "2026-07-01", to: null }, "readings from 2026-07-01 00:00 +01:00 on"],
  ] as const)("such as %j, without readings, says which there are", async (period, expected) => {
    const siteFile = join(await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() }), "site.yaml");
    expect(await problemsOf(siteFile, { period })).toMatchObject([{ code: "period-empty", expected, found: "readings from 2026-06-01 01:00 +01:00 to 2026-06-07 18:03 +01:00" }]);
  });
});
