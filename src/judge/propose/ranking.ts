import { sum } from "d3-array";
import type { Interval } from "../../ground/intervals.js";
import { SECOND_MS } from "../../ground/units.js";
import type { Expression } from "../../site/expression.js";
import type { RuleSpec } from "../../site/site.js";
import { designHistory } from "../design/history.js";
import { designBound, USUAL_COMMON_SHARE, type DesignContext } from "../design/road.js";
import { splitRule } from "../design/parts.js";
import { openScenes, opensMoreThan } from "../drills/hostile.js";
import type { SignalLags } from "../gap/gap.js";
import { makeSearcher } from "../gap/combine.js";
import { gapQuestion } from "../gap/question.js";
import { overHistory, type RuleOverHistory } from "../replay/replay.js";
import { atomsOf } from "../rule/condition.js";
import { prepareRule, type PreparedRule } from "../rule/prepare.js";
import { groupsOf, structureWith } from "./structure.js";
import type { Aims, Judged } from "./yardstick.js";

/** A rule that was better than the present one on the first part. */
export interface Better {
  readonly when: Expression;
  readonly judged: Judged;
  readonly aims: Aims;
  /** Seconds. */
  readonly delay: number;
}

/** The best rule of those that as many signals and causes must lie together to fool. */
export interface Ranked extends Better {
  readonly prepared: PreparedRule;
  readonly groups: number;
  /** Wrong firings a year by design, on the first part; null where it cannot be reckoned. */
  readonly bound: number | null;
}

interface Ranking {
  readonly rule: RuleOverHistory;
  readonly design: DesignContext;
  /** The rest of the history, which must not decide. */
  readonly leftOut: Interval;
}

/** At most this many rules of each number of groups are looked at closely: each takes time. Our own choice. */
const MOST_CLOSE = 4;

/**
 * The best of each number of groups by the first part alone, fewest groups first: fewest wrong; without a gap, before not
 * searched, before with one; the lowest bound by design; fewest missed or late; least delay; fewest conditions; shortest
 * windows. A rule with a gap that is known, or with an open hostile scene, is left out where the present one has none.
 */
export function rankedOf(better: readonly Better[], { rule, design, leftOut }: Ranking): Ranked[] {
  const { site, spec, history } = rule;
  if (better.length === 0) return [];
  const presentGap = gapOf(rule, design.lags);
  const presentScenes = new Set(openScenes(rule));
  const groups = new Map<number, (Better & { readonly prepared: PreparedRule })[]>();
  for (const one of better.toSorted((a, b) => compare(plainKeys(a), plainKeys(b)))) {
    const prepared = prepareRule(site, withCondition(spec, one.when));
    const count = groupsOf(structureWith(prepared, design.seen));
    const others = groups.get(count) ?? [];
    groups.set(count, others);
    if (others.length < MOST_CLOSE) others.push({ ...one, prepared });
  }
  return [...groups]
    .sort(([a], [b]) => a - b)
    .flatMap(([count, some]) => {
      const close = some.flatMap((one) => {
        const gap = gapOf(one.prepared, design.lags);
        if ((gap === 2 && presentGap !== 2) || opensMoreThan(presentScenes, one.prepared)) return [];
        const bound = boundOf(overHistory(one.prepared, history), design, leftOut);
        const [wrong, looksWrong, missed, unclear] = one.aims;
        return [{ ...one, groups: count, bound, keys: [wrong, looksWrong, gap, bound ?? Infinity, missed, unclear, one.delay, ...sizeKeys(one.when)] }];
      });
      return close.sort((a, b) => compare(a.keys, b.keys)).slice(0, 1);
    });
}

/** The rule with another condition. What was stated is left out: it was stated of the parts it had. */
function withCondition({ name, act, rightWhen, rightWhenIsDefault, restMs }: RuleSpec, when: Expression): RuleSpec {
  return { name, act, when, rightWhen, rightWhenIsDefault, restMs, line: null };
}

function plainKeys({ aims: [wrong, looksWrong, missed, unclear], delay, when }: Better): number[] {
  return [wrong, looksWrong, missed, unclear, delay, ...sizeKeys(when)];
}

function sizeKeys(when: Expression): number[] {
  return [conditionCount(when), windowsMs(when)];
}

/** Infinity minus Infinity is no number, so equals are looked at first. */
function compare(a: readonly number[], b: readonly number[]): number {
  const i = a.findIndex((value, at) => value !== b[at]);
  return i < 0 ? 0 : (a[i] ?? 0) < (b[i] ?? 0) ? -1 : 1;
}

/** How many parts of a condition speak of one signal each. */
export function conditionCount(part: Expression): number {
  return atomsOf(part).length;
}

function windowsMs(part: Expression): number {
  return sum(atomsOf(part), (atom) => (atom.op === "turned" ? atom.withinMs : (atom.recentlyMs ?? 0) + (atom.heldMs ?? 0)));
}

/** 0 without a gap, 1 where nobody searched, 2 with one. */
function gapOf(rule: PreparedRule, lags: SignalLags): 0 | 1 | 2 {
  if (rule.signals.some((signal) => !lags.has(signal))) return 1;
  const whole = new Map([...lags].map(([signal, { leastMs, mostMs }]) => [signal, { leastMs: Math.floor(leastMs / SECOND_MS) * SECOND_MS, mostMs: Math.ceil(mostMs / SECOND_MS) * SECOND_MS }]));
  const { found } = makeSearcher(gapQuestion(rule))(whole);
  return found === "no-gap" ? 0 : found === "gap" ? 2 : 1;
}

function boundOf(rule: RuleOverHistory, { lags, seen }: DesignContext, leftOut: Interval): number | null {
  const split = splitRule(rule, seen);
  if ("why" in split) return null;
  const { bound } = designBound(designHistory(rule, split.parts, lags, [leftOut]), { commonShare: USUAL_COMMON_SHARE, noSharedHoursBecause: null }, rule.standard.confidence);
  return Number.isFinite(bound) ? bound : null;
}
