import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Findings } from "../../src/findings/schema.js";
import { auditSite } from "../../src/pipeline.js";
import { loadSite } from "../../src/site/load.js";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";

/** A month at one bay, told by a meter on one source and a mat on another; `matLog` sets the second source's clock. */
export function monthText(matLog: string): string {
  return `
scenario: Ferry Lane
seed: 5
timezone: UTC
period: { from: 2026-06-01, to: 2026-07-01 }
people: { ada: {} }
bays: { bay-1: { vehicle: kombi } }
routine:
  - { name: morning, who: [ada], bay: bay-1, days: daily, leaves: "07:30", away: 4h, jitter: 20min, length_jitter: 30min }
  - { name: evening, who: [ada], bay: bay-1, days: daily, leaves: "17:00", away: 2h, jitter: 20min, length_jitter: 30min }
sources:
  meter-log: { files: exports/meter.csv, time: { column: t, written: epoch-s }, signal: id, value: v }
  mat-log: { files: exports/mat.csv, time: { column: t, written: epoch-s }, signal: id, value: v, ${matLog} }
sensors:
  meter: { on: bay-1, source: meter-log, channel: m, kind: distance, unit: cm, every: 3min, reads: { occupied: 120, empty: 260, noise: 1 }, faults: { lag: { on: { median: 3s }, off: { median: 3s } } }, site: { present: [100, 140], settle: 20s, expect: 3min } }
  mat: { on: bay-1, source: mat-log, channel: p, kind: flag, every: 10min, reads: { on: "1", off: "0" }, faults: { lag: { on: { median: 3s }, off: { median: 3s } } }, site: { expect: 10min } }
  phone: { on: ada, source: mat-log, channel: a, kind: phone, reads: { on: in, off: out } }
site:
  rules:
    - name: unlock
      act: unlock
      when: { all: [ { signal: meter, turned: occupied, within: 1min }, { signal: mat, turned: occupied, within: 1min } ] }
      right_when: { subject: bay-1, turned: occupied, within: 3min }
  limits: { confidence: 0.95, unlock: { wrong_per_year: 1, missed_share: 0.1, within: 3min } }
`;
}

/** Simulates, writes and audits a scenario. */
export async function auditedMonth(scenario: string): Promise<Findings> {
  const { files } = runScenario(parseScenario(scenario, "month.scenario.yaml"));
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-clocks-"));
  try {
    for (const [name, content] of files) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), content);
    }
    const site = { ...(await loadSite(join(folder, "site.yaml"))), diary: [] };
    return await auditSite(site, { period: { form: "month", month: "2026-06" }, madeAt: 0, watch: { onSetAside: () => undefined } });
  } finally {
    await rm(folder, { recursive: true });
  }
}
