import { join } from "node:path";
import { readFile, rm } from "node:fs/promises";
import { runProgram } from "../../src/commands/program.js";
import { findFinished } from "../../src/commands/finished-audits.js";
import { compareFleet } from "../../src/commands/fleet-folder.js";
import { withMonths } from "../../src/compare/months/with-months.js";
import { InputError } from "../../src/ground/problem.js";
import { findingsSchema, type Findings } from "../../src/result/findings.js";
import { fleetSchema } from "../../src/result/fleet.js";
import { decoded, jsonText } from "../../src/result/json-text.js";
import { happens } from "../../src/simulate/random.js";
import { loadSite } from "../../src/site/load.js";
import type { Site } from "../../src/site/site.js";
import { folderWith, listening, tinyLog, tinySite } from "../commands/tiny-site.js";
import { damagedBytes, damagedJson } from "./damage.js";
import { said } from "./exports.js";
import type { Target } from "./target.js";

/** A fleet written out takes longer than one that is worked out: one input in this many. */
const WRITTEN_EVERY = 25;
const tokens = ["{", "}", "[", "]", '":', "null", "1e999", "\\u001b", '"__proto__":{', "-", "[".repeat(5_000), '{"a":'.repeat(5_000)];

/** Half of the inputs are JSON still. */
const damagedResult = (text: string): Target["damaged"] => {
  const bytes = Buffer.from(text);
  const value: unknown = JSON.parse(text);
  return (random) => (happens(random, 0.15) ? damagedBytes(random, [bytes], tokens) : Buffer.from(JSON.stringify(damagedJson(random, value), null, happens(random, 0.5) ? 1 : 0)));
};

/** Readers of the results of earlier audits: `explain` reads findings; `combine` and the comparison of months read counts. */
export async function resultTargets(): Promise<Target[]> {
  const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
  if ((await runProgram(["audit", "site.yaml", "--month", "2026-06", "--out", "done", "--quiet"], listening(folder))) !== 3) throw new Error("the sample was not audited");
  const text = (name: string): Promise<string> => readFile(join(folder, "done", name), "utf8");
  const [findings, counts] = [await text("findings.json"), await text("counts.json")];
  const may = counts.replaceAll("2026-06", "2026-05").replaceAll("2026-07", "2026-06");
  const read = decoded(findingsSchema, JSON.parse(findings));
  if (!read.success) throw new Error("the sample cannot be read back");
  const loaded = await loadSite(join(folder, "site.yaml"));
  return [
    {
      name: "findings",
      file: "findings.json",
      besides: {},
      samples: [findings],
      damaged: damagedResult(findings),
      take: async (place, nth) => ((await said(place, ["explain", "findings.json", "--at", nth % 2 === 0 ? "2026-06-03T17:02" : "2026-06-05T08:01", "--around", "2h"], [0, 2])) === 0 ? "read" : "refused"),
      command: { words: ["explain", "findings.json", "--at", "2026-06-03T17:02"], may: [0, 2] },
    },
    {
      name: "counts",
      file: "done/b/counts.json",
      besides: { "done/a/counts.json": counts.replace('"Otter Cottage"', '"Heron Lane"') },
      samples: [may],
      damaged: damagedResult(may),
      take: async (place, nth) => {
        if (nth % WRITTEN_EVERY === 0) {
          await rm(join(place, "all"), { recursive: true, force: true });
          await said(place, ["combine", "done", "--out", "all"], [0, 2, 3]);
          await said(place, ["combine", "done", "--out", "all", "--leave-out-broken", "--quiet"], [0, 2, 3]);
          await said(place, ["thin", "done", "--before", "2026-12", "--show"], [0, 2]);
        }
        return comparedWith(read.data, loaded, place);
      },
      command: { words: ["combine", "done", "--out", "all", "--leave-out-broken"], may: [0, 2, 3] },
    },
  ];
}

/** Compares the audits of a folder with each other, and a month with them. */
async function comparedWith(findings: Findings, site: Site, place: string): Promise<"read" | "refused"> {
  const { finished } = await findFinished(join(place, "done"), place);
  const all = finished.map(({ counts }) => counts);
  // Writing is strict: what does not fit its schema would fail there.
  jsonText(findingsSchema, { ...findings, ...withMonths(findings, site, all) });
  if (all.length < 2) return "refused";
  try {
    jsonText(fleetSchema, compareFleet(all, { leftOut: [], belongs: null, failed: [] }, listening(place)));
    return "read";
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return "refused";
  }
}
