import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { loadSite, type Counts } from "../../../src/index.js";
import { overMonths } from "../../../src/compare/months/with-months.js";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import { usualLags } from "../../../src/compare/signals/usual-lags.js";
import { DAY_MS } from "../../../src/ground/units.js";
import { designRoad } from "../../../src/judge/design/road.js";
import { gapFinding } from "../../../src/judge/gap/finding.js";
import { judgeRule } from "../../../src/judge/judge.js";
import { judgeFirings } from "../../../src/judge/replay/own-words.js";
import { knownOf, toldBy } from "../../../src/known.js";
import { ruleCounts } from "../../../src/result/count-findings.js";
import { COUNTS_SCHEMA } from "../../../src/result/counts.js";
import type { DesignRoad } from "../../../src/result/design.js";
import type { Findings } from "../../../src/result/findings.js";
import type { RuleFinding } from "../../../src/result/rules.js";
import { ruleDigest } from "../../../src/site/rule-digest.js";
import type { Site } from "../../../src/site/site.js";
import { filesOf } from "./site-text.js";
import type { Limits, World } from "./world.js";

/** A world's own rule as an audit judges it. */
export interface JudgedMonth {
  readonly site: Site;
  readonly period: Findings["period"];
  readonly rule: RuleFinding;
  /** What a later audit keeps of it: of the rule only. */
  readonly counts: Counts;
}

/**
 * Judges the world's own rule by the steps of an audit. What an audit does besides (drills, other settings and rules, questions, what
 * got worse, what to mend, what more months could show) bears on no verdict and is left out; so is the road of design with `byDesign` false.
 */
export async function judgeWorld(world: World, limits: Limits, byDesign = true): Promise<JudgedMonth> {
  return asSite(world, limits, async (site) => {
    const known = await knownOf(site, { form: "all" });
    const [spec] = site.rules;
    const prepared = known.prepare(spec!);
    const { design, ...counting } = known.contextOf(prepared, 1);
    const judged = judgeRule(prepared, { ...counting, ...(byDesign ? { design } : {}), verdictOnly: true });
    const rule: RuleFinding = { ...judged, digest: ruleDigest(site, spec!), cumulated: null, drills: [], hostile: [], tuning: null };
    const period = { ...known.period, days: (known.period.to - known.period.from) / DAY_MS, label: known.label };
    const counts: Counts = {
      schema: COUNTS_SCHEMA,
      made: { at: 0, by: "study" },
      site: { name: site.name, timeZone: site.timeZone, confidence: site.confidence },
      period,
      signals: [],
      bays: [],
      rules: [ruleCounts(rule, period.days)],
    };
    return { site, period, rule, counts };
  });
}

/** The rule as the audit of the last of these months finds it, given the results of those before. */
export function overThese(months: readonly JudgedMonth[]): RuleFinding {
  const { site, period, rule } = months.at(-1)!;
  return overMonths(period, site, months.slice(0, -1).map(({ counts }) => counts))(rule);
}

/** The road of design of a world's own rule, without figures, and what counting saw. */
export interface RoadSeen {
  readonly road: Omit<DesignRoad, "figures">;
  readonly wrong: number;
}

/** The steps of an audit that lead to the road of design, and no others. */
export async function roadOfWorld(world: World, limits: Limits): Promise<RoadSeen> {
  return asSite(world, limits, async (site) => {
    const { told, book, period, lagBook, detected, diary, prepare } = await toldBy(site, { form: "all" });
    const lags = usualLags(scoreSignals(site, told.accounts, book, period, lagBook));
    const rule = prepare(site.rules[0]!);
    const road = designRoad(rule, { lags, seen: detected, tests: diary.tests }, gapFinding(rule, lags, false));
    return { road, wrong: judgeFirings(rule).firings.filter(({ outcome }) => outcome === "wrong").length };
  });
}

/** Writes the world into a folder of its own, hands on what is read there, and takes the folder away. */
async function asSite<T>(world: World, limits: Limits, use: (site: Site) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), "verdict-study-"));
  try {
    for (const [name, text] of filesOf(world, limits)) await writeFile(join(folder, name), text);
    return await use(await loadSite(join(folder, "site.yaml")));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
