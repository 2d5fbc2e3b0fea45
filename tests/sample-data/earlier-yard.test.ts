import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import { countsOf } from "../../src/result/counts.js";
import { audit } from "../../src/pipeline.js";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";
import { jsonText } from "../../src/result/json-text.js";
import { countsSchema } from "../../src/result/counts-schema.js";

/** The yard's scenario moved to an earlier month, with a seed of its own and without the visitor and the walk, which fit March only. */
function earlierScenario(month: string, next: string, seed: number): string {
  return readFileSync("sample-data/yard.scenario.yaml", "utf8")
    .replace("seed: 20260308", `seed: ${seed}`)
    .replace(/^events:\n( {2}- .*\n)+/m, "")
    .replaceAll(/2026-03-(\d\d)/g, `${month}-$1`)
    .replace("to: 2026-04-01", `to: ${next}-01`);
}

// The counts are all that the demo needs of these months. `npx vitest run tests/sample-data --update` makes them again.
test.each([["2026-01", "2026-02", 20260105], ["2026-02", "2026-03", 20260206]])(
  "the yard's counts of %s are those of an audit of what its scenario makes",
  async (month, next, seed) => {
    const folder = mkdtempSync(join(tmpdir(), "yard-"));
    try {
      for (const [name, content] of runScenario(parseScenario(earlierScenario(month, next, seed), "yard")).files) {
        mkdirSync(dirname(join(folder, name)), { recursive: true });
        writeFileSync(join(folder, name), name.endsWith(".gz") ? gzipSync(content) : content);
      }
      const findings = await audit(join(folder, "site.yaml"), { period: { form: "month", month }, madeAt: Date.parse(`${next}-01T09:00:00Z`), watch: { onSetAside: () => undefined, onProgress: () => undefined } });
      await expect(jsonText(countsSchema, countsOf(findings))).toMatchFileSnapshot(`../../sample-data/yard-earlier/${month}/counts.json`);
    } finally {
      rmSync(folder, { recursive: true });
    }
  },
  60_000,
);
