import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { InputError } from "../../src/ground/problem.js";
import { readDiary } from "../../src/intake/diary.js";
import { happens } from "../../src/simulate/random.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { loadFleetFile } from "../../src/site/fleet-file.js";
import { loadRules, loadSite } from "../../src/site/load.js";
import { tinySite } from "../commands/tiny-site.js";
import { damagedBytes, damagedLines, oneOf } from "./damage.js";
import { said } from "./exports.js";
import type { Target } from "./target.js";

const CHECKED_EVERY = 20;
const yamlTokens = [
  "{", "}", "[", "]", ":", ": ", "- ", "&a ", "*a", "<<: *a", "!!binary ", "!!set ", "? ", "|\n", ">-\n", "'", '"', "#", "~", "null", "true", ".inf", ".nan", "-0", "1e400", "0x1F", "0o7", "2026-13-40", "10min", "-3min", "9999999d", "1e9 ft", "Mars/Phobos",
  "%YAML 1.1", "---", "...", "__proto__", "constructor", "all", "any", "not", "held", "since", "at_least", "{ signal: overhead, is: occupied }", "[".repeat(2_000), "{ not: ".repeat(500), "x: &a [*a]",
];
const diaryTokens = ['"', ",", ",,", "\r", "test", "taken back", "2026-03-29T01:30", "2026-10-25T01:30", "9999-12-31T23:59:60Z", "2026-02-30T00:00", "+99:99", "ida", "bay", "here", "'=ida"];

/** Readers of what people write by hand: site files, further rules, fleet files, scenarios, diaries. */
export async function writtenTargets(): Promise<Target[]> {
  const text = (path: string): Promise<string> => readFile(path, "utf8");
  const sites = [tinySite, await text("sample-data/household/site.yaml"), await text("sample-data/yard/site.yaml")];
  const scenarios = [await text("sample-data/household.scenario.yaml"), await text("sample-data/yard.scenario.yaml")];
  const rules = `rules:\n${tinySite.slice(tinySite.indexOf("  - name"), tinySite.indexOf("limits:")).replace("unlock on arrival", "unlock later")}`;
  const diary = "subject,state,from,to,note\nida,away,2026-06-02T08:00,2026-06-02T17:00,work\nbay,occupied,2026-06-01T20:00:00+01:00,2026-06-02T06:00:00Z,\nida,taken back,2026-06-02T09:00,2026-06-02T10:00,\ntest,board,2026-06-03T08:00,2026-06-03T08:05,\ndoor,,2026-06-03T08:00,2026-06-03T08:05,\n";
  return [
    target("site", "site.yaml", {}, sites, yamlTokens, async (folder, nth) => {
      await loadSite(join(folder, "site.yaml"));
      if (nth % CHECKED_EVERY === 0) await said(folder, ["check", "site.yaml", "--quiet"], [0, 2]);
    }, ["check", "site.yaml"]),
    target("rules", "rules.yaml", { "site.yaml": tinySite }, [rules], yamlTokens, async (folder) => loadRules(await loadSite(join(folder, "site.yaml")), join(folder, "rules.yaml")), ["audit", "site.yaml", "--try", "rules.yaml"]),
    target("fleet-file", "fleet.yaml", {}, ["fleet: North\nsites: [Otter Cottage, Heron Lane]\nlimits: { missed_share: 0.05, late: 3min }\n", "fleet: South\nsites:\n  - Otter Cottage\n"], yamlTokens, (folder) => loadFleetFile(join(folder, "fleet.yaml")), ["combine", "none", "--out", "all", "--fleet", "fleet.yaml"]),
    target("scenario", "scenario.yaml", {}, scenarios, yamlTokens, async (folder) => parseScenario(await text(join(folder, "scenario.yaml")), "scenario.yaml"), ["simulate", "scenario.yaml", "--out", "new", "--quiet"]),
    target("diary", "diary.csv", { "site.yaml": `${tinySite.replace("on: door,", "on: door, shares: [board],")}diary: { files: diary.csv }\n` }, [diary], diaryTokens, async (folder) => readDiary(await loadSite(join(folder, "site.yaml"))), ["check", "site.yaml"]),
  ];
}

function target(name: string, file: string, besides: Readonly<Record<string, string>>, samples: readonly string[], tokens: readonly string[], read: (folder: string, nth: number) => Promise<unknown>, words: readonly string[]): Target {
  const bytes = samples.map((sample) => Buffer.from(sample));
  return {
    name,
    file,
    besides,
    samples,
    damaged: (random) => (happens(random, 0.25) ? damagedBytes(random, bytes, tokens) : Buffer.from(damagedLines(random, oneOf(random, samples), tokens))),
    take: async (folder, nth) => {
      try {
        await read(folder, nth);
        return "read";
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        return "refused";
      }
    },
    command: { words, may: [0, 2, 3] },
  };
}
