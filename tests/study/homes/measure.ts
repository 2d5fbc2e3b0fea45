/** How well the reference tells a home's truth. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { auditSite, loadSite } from "../../../src/index.js";
import { readDiary } from "../../../src/intake/diary.js";
import { settlePeriod } from "../../../src/intake/period.js";
import { readExports } from "../../../src/intake/read-exports.js";
import { ON, OFF } from "../../../src/timeline/timeline.js";
import { turned } from "../../../src/timeline/turned.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { hearSignals } from "../../../src/truth/signals/hear.js";
import type { Findings } from "../../../src/result/findings.js";
import { DAY, HOUR, MINUTE, type Span } from "./life.js";
import type { Exported } from "./sensors.js";

/** Probabilities are told apart by these bounds: a bin holds its lower one. */
export const BINS = [0.9, 0.94, 0.96, 0.985, 0.9995, 1.0001] as const;

interface ToldMonth {
  ms: number;
  wrongMs: number;
}

/** Sums over months. Milliseconds, or numbers of turns. */
export interface Measured {
  turns: number;
  placed: number;
  /** Of those with half an hour or more on both sides. */
  longTurns: number;
  longPlaced: number;
  /** Of the long ones not told of within a minute, those next to which the reference says within a minute that it does not know. */
  longUntold: number;
  invented: number;
  totalMs: number;
  unknownMs: number;
  /** By bin; `sum` is of probability by milliseconds, and `months` has what each month told in it. */
  told: { ms: number; wrongMs: number; stretches: number; sum: number; months: ToldMonth[] }[];
}

export const nothingMeasured = (): Measured => ({
  turns: 0, placed: 0, longTurns: 0, longPlaced: 0, longUntold: 0, invented: 0, totalMs: 0, unknownMs: 0,
  told: BINS.slice(1).map(() => ({ ms: 0, wrongMs: 0, stretches: 0, sum: 0, months: [] })),
});

/** Writes the files, and hands on the folder while they are there. */
async function withFiles<Given>({ files }: Exported, use: (siteFile: string) => Promise<Given>): Promise<Given> {
  const folder = await mkdtemp(join(tmpdir(), "home-study-"));
  try {
    for (const [name, text] of files) await writeFile(join(folder, name), text);
    return await use(join(folder, "site.yaml"));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Adds one home's month: what the reference of its household says, held against the truth. The diary's own time is left out. */
export async function measureHome(home: Exported, into: Measured): Promise<void> {
  await withFiles(home, async (siteFile) => {
    const site = await loadSite(siteFile);
    const { readings } = await readExports(site, { onSetAside: () => undefined });
    const { entries } = await readDiary(site);
    const { period } = settlePeriod(site, readings, { form: "all" });
    const { told } = hearSignals(site, readings, period);
    const { timeline, segments } = makeReferenceBook(site, told.accounts, entries, period)("household", []);
    const options = { bridgeMs: site.bridgeMs, barriers: [] };
    const found = { left: turned(timeline, OFF, options).map(({ at }) => at), came: turned(timeline, ON, options).map(({ at }) => at) };
    const empty = home.empty.filter(({ from, to }) => from > period.from && to < period.to);
    empty.forEach(({ from, to }, i) => {
      const [before, after] = [empty[i - 1]?.to ?? period.from, empty[i + 1]?.from ?? period.to];
      // What the diary speaks of, and rounds, is not the reference's to date.
      const written = (at: number): boolean => entries.some((one) => one.from - HOUR <= at && at <= one.to + HOUR);
      const long = to - from >= 30 * MINUTE;
      if (!written(from)) add(from, found.left, long && from - before >= 30 * MINUTE);
      if (!written(to)) add(to, found.came, long && after - to >= 30 * MINUTE);
    });
    const near = (at: number, truths: readonly number[]): boolean => truths.some((one) => Math.abs(one - at) <= 10 * MINUTE);
    into.invented += found.left.filter((at) => !near(at, empty.map(({ from }) => from))).length + found.came.filter((at) => !near(at, empty.map(({ to }) => to))).length;
    for (const { months } of into.told) months.push({ ms: 0, wrongMs: 0 });
    for (const one of segments) {
      if (one.basis === "diary") continue;
      into.totalMs += one.to - one.from;
      if (one.state !== ON && one.state !== OFF) {
        into.unknownMs += one.to - one.from;
        continue;
      }
      const away = overlap(home.empty, one);
      const wrongMs = one.state === ON ? away : one.to - one.from - away;
      const bin = into.told[BINS.findLastIndex((bound) => bound <= one.probability)]!;
      bin.ms += one.to - one.from;
      bin.wrongMs += wrongMs;
      bin.sum += one.probability * (one.to - one.from);
      bin.months.at(-1)!.ms += one.to - one.from;
      bin.months.at(-1)!.wrongMs += wrongMs;
      bin.stretches += 1;
    }

    function add(at: number, turns: readonly number[], long: boolean): void {
      const placed = turns.some((one) => Math.abs(one - at) <= MINUTE) ? 1 : 0;
      into.turns += 1;
      into.placed += placed;
      if (!long) return;
      into.longTurns += 1;
      into.longPlaced += placed;
      const isUntold = segments.some((one) => one.state !== ON && one.state !== OFF && one.from <= at + MINUTE && one.to >= at - MINUTE);
      if (placed === 0 && isUntold) into.longUntold += 1;
    }
  });
}

function overlap(spans: readonly Span[], { from, to }: Span): number {
  return spans.reduce((sum, one) => sum + Math.max(0, Math.min(one.to, to) - Math.max(one.from, from)), 0);
}

/** What became of a rule of the home, and how often it truly acted wrongly. */
export interface JudgedRule {
  readonly rule: string;
  readonly verdict: string;
  readonly right: number;
  readonly wrong: number;
  readonly unverified: number;
  readonly trulyWrong: number;
  readonly firings: number;
}

/** The whole audit, as a user would run it. */
export async function judgeHome(home: Exported): Promise<JudgedRule[]> {
  return withFiles(home, async (siteFile) => {
    const findings: Findings = await auditSite(await loadSite(siteFile), { period: { form: "all" }, madeAt: 0 });
    return findings.rules.map(({ name, verdict, firings, firingList }) => ({
      rule: name,
      verdict,
      right: firings.right,
      wrong: firings.wrong,
      unverified: firings.unverified,
      firings: firingList.length,
      trulyWrong: firingList.filter(({ at }) => !home.empty.some((one) => one.from <= at && at < one.to)).length,
    }));
  });
}

export { DAY, HOUR };
