/* eslint-disable @typescript-eslint/no-non-null-assertion -- a condition that begins to hold does so because something in it turns */
/**
 * The gap in a rule itself: can it act wrongly while every sensor tells the truth within its lag?
 *
 *   rule ─ by subject ─ courses that differ ─ combined, subject by subject ─ the gap with the fewest changes ─ in words
 *                                                                          └ again with other lags ─ gap-free until
 */
import { lookUp } from "../../ground/look-up.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { SignalKind } from "../../site/site.js";
import { atomsOf } from "../rule/condition.js";
import type { PreparedRule } from "../rule/prepare.js";
import { makeSearcher, type Searcher } from "./combine.js";
import type { GapFreeLag, GapScene, GapSearch, LagRange, SignalLags } from "./gap.js";
import { plainest } from "./plainest.js";
import { gapQuestion, type GapQuestion } from "./question.js";
import { sceneOf, triggerOf } from "./scene.js";
import { sceneText } from "./scene-text.js";
import { confined } from "./width.js";

/** Lags are tried up to here: a sensor an hour late tells of no arrival. Our own choice. */
const LONGEST_LAG_MS = 60 * MINUTE_MS;

/**
 * Searches a rule for a gap, and for each kind of its signals for the lag up to which there is none. Every subject
 * begins in either state and changes up to twice; each change is told within the lag of each signal. Lags are rounded
 * to whole seconds, outwards. A signal without a lag leaves the question open, as does a rule that is too large.
 * Pure; well under a second for six subjects and four windows. `limits` false leaves the limits out, which take ten times as
 * long as the rest.
 */
export function searchGap(rule: PreparedRule, lags: SignalLags, limits = true): GapSearch {
  const oneSided = rule.site.signals.filter(({ id, kind }) => kind === "stir" && rule.signals.includes(id)).map(({ id }) => id);
  if (oneSided.length > 0) return open(`Not searched: ${oneSided.join(", ")} may say nothing for any time although somebody is here.`);
  if (atomsOf(rule.spec.when).some((atom) => atom.op === "is" && atom.since !== undefined)) {
    return open("Not searched: the rule asks what was so since something changed.");
  }
  const unmeasured = rule.signals.filter((signal) => !isRange(lags.get(signal)));
  if (unmeasured.length > 0) return open(`Not searched: nobody knows how late ${unmeasured.join(", ")} may tell.`);
  const question = gapQuestion(rule);
  const whole = new Map([...lags].map(([signal, range]) => [signal, inSeconds(range)]));
  const search = makeSearcher(question);
  const combined = search(whole);
  if (combined.found === "not-searched") return open(combined.why);
  const gapFreeUntil = limits ? gapFreeLags(rule, whole, search) : [];
  if (typeof gapFreeUntil === "string") return open(gapFreeUntil);
  const scene = combined.found === "gap" ? describe(sceneOf(combined.courses, question), question, rule, whole) : null;
  return { searched: true, why: null, scene, gapFreeUntil };
}

function describe(found: GapScene["subjects"], question: GapQuestion, rule: PreparedRule, lags: SignalLags): GapScene {
  // A condition that begins to hold does so because something in it turns.
  const trigger = triggerOf(found, question)!;
  const subjects = plainest(found, trigger, question, lags);
  const narrowest = confined(subjects, trigger, question, lags);
  return {
    text: sceneText(subjects, trigger, question, rule, lags),
    changes: subjects.reduce((sum, { changes }) => sum + changes.length, 0),
    trigger,
    free: narrowest?.free ?? null,
    widthMs: narrowest?.widthMs ?? null,
    subjects,
  };
}

/** For each kind, in the order of the names. A text says why the search was given up. */
function gapFreeLags({ signals, site }: PreparedRule, lags: SignalLags, search: Searcher): GapFreeLag[] | string {
  const kindOf = new Map(site.signals.map(({ id, kind }) => [id, kind]));
  const kinds = [...new Set(signals.flatMap((signal) => kindOf.get(signal) ?? []))].sort();
  const found: GapFreeLag[] = [];
  for (const kind of kinds) {
    const own = signals.filter((signal) => kindOf.get(signal) === kind);
    const limit = limitOf(kind, own, (mostMs) => search(new Map([...lags, ...own.map((signal) => [signal, upTo(lookUp(lags, signal), mostMs)] as const)])).found);
    if (limit === null) return `Not searched: the rule can be met in too many ways once its ${kind} signals are late.`;
    found.push(limit);
  }
  return found;
}

/** More lag leaves room for more, so a gap once open stays open: the limit is found by halving. */
function limitOf(kind: SignalKind, signals: readonly string[], at: (mostMs: number) => ReturnType<Searcher>["found"]): GapFreeLag | null {
  const ends = [at(0), at(LONGEST_LAG_MS)];
  if (ends.includes("not-searched")) return null;
  if (ends[0] === "gap") return { kind, signals, untilMs: null, ends: "gap-anyway" };
  if (ends[1] === "no-gap") return { kind, signals, untilMs: null, ends: "no-gap" };
  let [free, gap] = [0, LONGEST_LAG_MS];
  while (gap - free > SECOND_MS) {
    const middle = Math.floor((free + gap) / 2 / SECOND_MS) * SECOND_MS;
    const found = at(middle);
    if (found === "not-searched") return null;
    if (found === "gap") gap = middle;
    else free = middle;
  }
  return { kind, signals, untilMs: free, ends: "gap" };
}

/** From at once (or early, as before) to `mostMs`: a lag that is sometimes shorter. */
function upTo({ leastMs }: LagRange, mostMs: number): LagRange {
  return { leastMs: Math.min(leastMs, 0), mostMs };
}

function inSeconds({ leastMs, mostMs }: LagRange): LagRange {
  return { leastMs: Math.floor(leastMs / SECOND_MS) * SECOND_MS, mostMs: Math.ceil(mostMs / SECOND_MS) * SECOND_MS };
}

function isRange(lag: LagRange | undefined): boolean {
  return lag !== undefined && Number.isFinite(lag.leastMs) && Number.isFinite(lag.mostMs) && lag.leastMs <= lag.mostMs;
}

function open(why: string): GapSearch {
  return { searched: false, why, scene: null, gapFreeUntil: [] };
}
