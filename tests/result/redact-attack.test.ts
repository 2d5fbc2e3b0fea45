import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening, tinyLog, tinySite } from "../commands/tiny-site.js";
import { attackedLogs, attackedSite, type AttackedMonth } from "./attack-site.js";
import { clockChangesFound, datesFound, lootOf, placesFound, weekdaysFound, type Loot } from "./attack.js";

const attacked: readonly (AttackedMonth & { readonly days: number; readonly cities: readonly string[] })[] = [
  { zone: "Europe/London", month: "2026-10", change: Date.UTC(2026, 9, 25, 1), days: 31, cities: ["London", "Otter", "Europe"] },
  { zone: "Europe/London", month: "2026-03", change: Date.UTC(2026, 2, 29, 1), days: 31, cities: ["London", "Otter", "Europe"] },
  { zone: "Pacific/Auckland", month: "2026-04", change: Date.UTC(2026, 3, 4, 14), days: 30, cities: ["Auckland", "Otter", "Pacific"] },
  { zone: "America/New_York", month: "2026-11", change: Date.UTC(2026, 10, 1, 6), days: 30, cities: ["York", "Otter", "America"] },
  { zone: "America/Havana", month: "2026-03", change: Date.UTC(2026, 2, 8, 5), days: 31, cities: ["Havana", "Otter", "America"] },
  { zone: "Australia/Lord_Howe", month: "2026-10", change: Date.UTC(2026, 9, 3, 15, 30), days: 31, cities: ["Howe", "Otter", "Australia"] },
];

describe.each(attacked)("whoever is given a redacted result of $month in $zone", ({ days, cities, ...month }) => {
  let [plain, redacted]: (Loot | null)[] = [null, null];
  beforeAll(async () => {
    const folder = await folderWith({ "site.yaml": attackedSite(month.zone), ...attackedLogs(month) });
    const around = listening(folder);
    for (const more of [[], ["--redact"]]) expect(await runProgram(["audit", "site.yaml", "--month", month.month, ...more], around), around.told()).toBe(3);
    plain = await lootOf(join(folder, "reports", "otter-cottage", month.month));
    redacted = await lootOf(join(folder, "reports", "otter-cottage", "redacted"));
  }, 60_000);

  it("learns no date", () => {
    expect(datesFound(redacted!)).toEqual([]);
  });

  it("finds no clock change", () => {
    expect(clockChangesFound(redacted!)).toEqual([]);
  });

  it("learns no weekday by its name", () => {
    expect(weekdaysFound(redacted!, days)).toEqual([]);
  });

  it("learns no place", () => {
    expect(placesFound(redacted!, cities)).toEqual([]);
  });

  it("would have learnt the length of the period from what lies within it, had it not been placed on days of 24 hours", () => {
    const learnt = clockChangesFound(plain!);
    for (const way of ["splitAt", ".stretches.", "bounds.wrong"]) expect(learnt.some((one) => one.includes(way)), `${way}: ${learnt.join("\n")}`).toBe(true);
  });

  it("would have learnt each of them from the result as it was", () => {
    expect(datesFound(plain!)).not.toEqual([]);
    expect(clockChangesFound(plain!).length).toBeGreaterThan(3);
    expect(weekdaysFound(plain!, days)).not.toEqual([]);
    expect(placesFound(plain!, cities)).not.toEqual([]);
  });

  it("is told what still shows", () => {
    const { notes, period } = redacted!.findings as { notes: string[]; period: { days: number } };
    expect(notes[0]).toMatch(/It still shows: times of day, .* a weekly routine shows though no weekday is named/);
    expect(period.days).toBe(days);
    expect(redacted!.texts.get("report.html")).toContain("at a time left out");
  });
});

describe("whoever is given a redacted result of a site file that is called by name and address", () => {
  it.each(["Zander, Elm Street 12.yaml", "zander's-elm.yaml", "Zander-Elm.yaml"])("learns neither: %s", async (siteFile) => {
    const folder = await folderWith({ [siteFile]: tinySite.replace("files: log.csv", 'files: "zander elm/*.csv"'), "zander elm/Zander 12.csv": tinyLog() });
    for (const more of [["--out", "plain"], ["--out", "shared", "--redact"]]) expect(await runProgram(["audit", siteFile, "--month", "2026-06", ...more], listening(folder))).toBe(3);
    const told = async (out: string): Promise<number[]> => Promise.all((await readdir(join(folder, out))).map(async (name) => [...(await readFile(join(folder, out, name), "utf8")).matchAll(/zander|\belm\b/gi)].length));
    expect(Math.max(...(await told("plain")))).toBeGreaterThan(0);
    expect((await told("shared")).filter((count) => count > 0)).toEqual([]);
    expect(await readFile(join(folder, "shared/report.html"), "utf8")).toContain("keyworthy confirm site.yaml");
  }, 60_000);
});
