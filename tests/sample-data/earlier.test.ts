import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import { countsOf } from "../../src/result/count-findings.js";
import { audit } from "../../src/pipeline.js";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { jsonText } from "../../src/result/json-text.js";
import { countsSchema } from "../../src/result/counts.js";

/** The yard's scenario moved to an earlier month, with a seed of its own and without the visitor and the walk, which fit March only. */
function earlierYard(month: string, next: string, seed: number): string {
  return readFileSync("sample-data/yard.scenario.yaml", "utf8")
    .replace("seed: 20260308", `seed: ${seed}`)
    .replace(/^events:\n( {2}- .*\n)+/m, "")
    .replaceAll(/2026-03-(\d\d)/g, `${month}-$1`)
    .replace("to: 2026-04-01", `to: ${next}-01`);
}

/** The household's, without the events of October and without the magnet that jams in October. */
function earlierHousehold(month: string, next: string, seed: number): string {
  return readFileSync("sample-data/household.scenario.yaml", "utf8")
    .replace("seed: 20261025", `seed: ${seed}`)
    .replace(/^events:\n( {2}(- |#).*\n)+/m, "")
    .replace(/, stuck: \[.*?\] \} \}/, " } }")
    .replaceAll(/2026-10-(\d\d)/g, `${month}-$1`)
    .replace("to: 2026-11-01", `to: ${next}-01`);
}

// The counts are all that the demo needs of these months. `npx vitest run tests/sample-data --update` makes them again.
test.each([
  ["yard-earlier", earlierYard, "2026-01", "2026-02", 20260105],
  ["yard-earlier", earlierYard, "2026-02", "2026-03", 20260206],
  ["household-earlier", earlierHousehold, "2026-02", "2026-03", 20260225],
  ["household-earlier", earlierHousehold, "2026-03", "2026-04", 20260325],
  ["household-earlier", earlierHousehold, "2026-04", "2026-05", 20260425],
  ["household-earlier", earlierHousehold, "2026-05", "2026-06", 20260525],
  ["household-earlier", earlierHousehold, "2026-06", "2026-07", 20260625],
  ["household-earlier", earlierHousehold, "2026-07", "2026-08", 20260725],
  ["household-earlier", earlierHousehold, "2026-08", "2026-09", 20260825],
  ["household-earlier", earlierHousehold, "2026-09", "2026-10", 20260925],
])(
  "the counts in %s are those of an audit of what the scenario makes of an earlier month",
  async (sample, scenario, month, next, seed) => {
    const folder = mkdtempSync(join(tmpdir(), "earlier-"));
    try {
      for (const [name, content] of runScenario(parseScenario(scenario(month, next, seed), "earlier")).files) {
        mkdirSync(dirname(join(folder, name)), { recursive: true });
        writeFileSync(join(folder, name), name.endsWith(".gz") ? gzipSync(content) : content);
      }
      const findings = await audit(join(folder, "site.yaml"), { period: { form: "month", month }, madeAt: Date.parse(`${next}-01T09:00:00Z`), watch: { onSetAside: () => undefined, onProgress: () => undefined } });
      await expect(jsonText(countsSchema, countsOf(findings))).toMatchFileSnapshot(`../../sample-data/${sample}/${month}/counts.json`);
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
  60_000,
);
