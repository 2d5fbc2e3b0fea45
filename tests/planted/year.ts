import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import type { Findings } from "../../src/result/findings.js";
import { auditSite } from "../../src/pipeline.js";
import { loadSite } from "../../src/site/load.js";
import type { Planted } from "../../src/simulate/planted.js";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";

const missShares = [0.01, 0.03, 0.08];
const phantomRates = [3, 10, 25];

/** Two bays, six meters, two phones, one door; every meter has a planted miss share and phantom rate of its own. */
function yearText(): string {
  const meters = [1, 2].flatMap((bay) =>
    missShares.map((miss, i) => {
      const phantom = phantomRates[(i + bay) % phantomRates.length];
      return `  bay-${bay}-m${i}: { on: bay-${bay}, source: log, channel: b${bay}m${i}, kind: distance, unit: cm, every: 30min,
    reads: { occupied: 120, empty: 260, noise: 1, decimals: 0 },
    faults: { miss: ${miss}, phantom: { per_30_days: ${phantom}, mean: 12min } }, site: { present: [100, 140], expect: 30min } }`;
    }),
  );
  return `
scenario: Long Field
seed: 11
timezone: Europe/Berlin
period: { from: 2026-01-01, to: 2027-01-01 }
people: { ada: {}, ben: {} }
bays: { bay-1: { vehicle: estate }, bay-2: { vehicle: van } }
doors: { barn-door: {} }
routine:
  - { name: Ada drives, who: [ada], bay: bay-1, through: barn-door, days: daily, leaves: "07:30", away: 6h, jitter: 20min, length_jitter: 30min }
  - { name: Ben drives, who: [ben], bay: bay-2, through: barn-door, days: daily, leaves: "09:00", away: 7h, jitter: 20min, length_jitter: 30min }
  - { name: Ada again, who: [ada], bay: bay-1, through: barn-door, days: daily, leaves: "17:30", away: 2h, jitter: 20min, length_jitter: 30min }
sources:
  log: { files: exports/log.csv, time: { column: t, written: epoch-s }, signal: id, value: v }
sensors:
${meters.join("\n")}
  contact: { on: barn-door, source: log, channel: c1, kind: contact, reads: { on: "1", off: "0" } }
  phone-ada: { on: ada, source: log, channel: p1, kind: phone, reads: { on: in, off: out }, faults: { phantom_off: { per_30_days: 6, mean: 20min, between: ["00:00", "05:00"] } } }
  phone-ben: { on: ben, source: log, channel: p2, kind: phone, reads: { on: in, off: out }, faults: { phantom_off: { per_30_days: 3, mean: 20min, between: ["00:00", "05:00"] } } }
diary: { kept: { days: 365, subjects: [bay-1, bay-2, barn-door, ada, ben] } }
site:
  rules:
    - name: unlock for a phone
      act: unlock
      when: { any: [ { signal: phone-ada, turned: here, within: 1min }, { signal: phone-ben, turned: here, within: 1min } ] }
  limits: { confidence: 0.95, unlock: { wrong_per_year: 1, missed_share: 0.1, within: 2min } }
`;
}

/** Simulates the year, writes it to a temporary folder and audits it. */
export async function auditedYear(): Promise<{ readonly findings: Findings; readonly planted: Planted }> {
  const { files, planted } = runScenario(parseScenario(yearText(), "year.scenario.yaml"));
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-year-"));
  for (const [name, content] of files) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), name.endsWith(".gz") ? gzipSync(content) : content);
  }
  const site = await loadSite(join(folder, "site.yaml"));
  const findings = await auditSite(site, { period: { form: "range", from: "2026-01-01", to: "2027-01-01" }, madeAt: 0, watch: { onSetAside: () => undefined } });
  return { findings, planted };
}
