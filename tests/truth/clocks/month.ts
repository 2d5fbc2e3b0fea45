import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { clockOffsets, type ClockOffset } from "../../../src/truth/clocks/offsets.js";
import { findEpisodes } from "../../../src/truth/episodes/find.js";
import { readExports } from "../../../src/intake/read-exports.js";
import { settlePeriod } from "../../../src/intake/period.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { judgeRule, type RuleJudgement } from "../../../src/judge/judge.js";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import { signalAccounts } from "../../../src/truth/signals/accounts.js";
import type { Site } from "../../../src/site/site.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { loadSite } from "../../../src/site/load.js";
import { runScenario } from "../../../src/simulate/run.js";
import { parseScenario } from "../../../src/simulate/scenario.js";
import type { Interval } from "../../../src/ground/intervals.js";
import type { Episode } from "../../../src/truth/episodes/episode.js";
import type { SignalScore } from "../../../src/compare/signals/score.js";

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

/** What became of a month: the steps of an audit that clocks bear on. */
export interface Month {
  readonly signals: readonly SignalScore[];
  readonly episodes: readonly Episode[];
  readonly rules: readonly RuleJudgement[];
  readonly clocks: readonly ClockOffset[];
}

/** A month as read, before anything is made of it, and what truly happened in it. */
export interface ReadMonth {
  readonly site: Site;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly period: Interval;
  readonly truth: ReadonlyMap<string, Timeline>;
}

/** Reads a simulated month and judges it, without its diary. */
export async function judgedMonth(scenario: string): Promise<Month> {
  const { site, accounts, period } = await readMonth(scenario);
  const book = makeReferenceBook(site, accounts, [], period);
  const { episodes } = findEpisodes(site, accounts, book, period);
  return {
    signals: scoreSignals(site, accounts, book, period),
    episodes,
    rules: site.rules.map((rule) => judgeRule(site, rule, accounts, book, period)),
    clocks: clockOffsets(site, accounts, period),
  };
}

/** Simulates a scenario, writes it and reads it back. */
export async function readMonth(scenario: string): Promise<ReadMonth> {
  const { files, planted } = runScenario(parseScenario(scenario, "month.scenario.yaml"));
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-clocks-"));
  try {
    for (const [name, content] of files) {
      await mkdir(dirname(join(folder, name)), { recursive: true });
      await writeFile(join(folder, name), content);
    }
    const site = await loadSite(join(folder, "site.yaml"));
    const { readings } = await readExports(site, { onSetAside: () => undefined });
    const { period } = settlePeriod(site, readings, { form: "month", month: "2026-06" });
    return { site, accounts: signalAccounts(site, readings, period), period, truth: planted.truth };
  } finally {
    await rm(folder, { recursive: true });
  }
}
