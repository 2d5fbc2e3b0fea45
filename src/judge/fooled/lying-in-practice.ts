import type { Site } from "../../site/site.js";
import { ON } from "../../timeline/timeline.js";
import type { ClaimLeaf, ClaimTree } from "../rule/claims.js";
import { causesBySignal, cutSet, setKey, signalsByCause, type CutSet, type ExpectedFigure } from "./cut-set.js";
import { BETA, betaSplit, coincidencesPerYear, UNTIMED_LIE_MS, type FaultRate, type FaultRates, type LyingRate } from "./fault-rates.js";
import { eachStretch } from "./joint-history.js";
import { smallestSets, type Liar } from "./lying-sets.js";
import type { Margin } from "./margin.js";
import type { WrongTime } from "./context.js";
import { HOUR_MS, MONTH_MS, YEAR_MS } from "../../ground/units.js";

/** A set of liars that needed no other, for part of the time. */
export interface PracticalSet extends CutSet {
  /** Share of the time in which firing would have been wrong, and hours of it in 30 days of history. */
  readonly share: number;
  readonly hoursPerMonth: number;
  /** Wrong firings a year through this set, as its members lie by the measured rates. */
  readonly expectedPerYear: ExpectedFigure;
}

/** The smallest sets of liars given what all others really read. */
export interface LyingInPractice {
  /** Hours of the history in which firing would have been wrong. */
  readonly wrongHours: number;
  /** Sets of up to this many members were looked for. */
  readonly upToSize: number;
  /** How many there are; those that suffice longest stand in `sets`. */
  readonly count: number;
  readonly sets: readonly PracticalSet[];
  /** Wrong firings a year through all sets: each signal by itself, and with the shared causes. */
  readonly expectedPerYear: { readonly independent: ExpectedFigure; readonly withSharedCauses: ExpectedFigure };
}

/** Three lies at once, beside what the history itself held of lies, are rarer than a month can say anything of. Our own choice. */
export const LARGEST_PRACTICAL_SET = 2;
/** As many as a person would look at. */
const MOST_PRACTICAL_LISTED = 30;


/**
 * The minimal sets of liars in each situation that the history held while firing would have been wrong, and the share of
 * that time in which each of them sufficed. Where the door stands open anyway, nobody need lie about it: structure alone
 * would flatter the rule. A set's expected rate is its members' coincidences times that share.
 * A signal that stands in several places is taken to keep what it truly reads beside what it lies: more sets, never fewer.
 * The lies that the history itself holds are part of what the others "really read".
 */
export function lyingInPractice(margin: Margin, wrong: WrongTime, site: Site, faults: FaultRates): LyingInPractice {
  const { start, end, patterns } = margin.history;
  const wrongMs = new Float64Array(patterns.length);
  eachStretch(margin.history, wrong.looked, (from, to, pattern, state) => {
    if (state === ON) wrongMs[pattern]! += to - from;
  });
  const totalMs = wrongMs.reduce((sum, ms) => sum + ms, 0);
  const causesOf = causesBySignal(site);
  const found = new Map<string, { readonly set: readonly Liar[]; ms: number }>();
  patterns.forEach((pattern, i) => {
    if (wrongMs[i] === 0 || margin.ofPattern[i] === 0) return;
    for (const set of smallestSets(unmetTree(margin.tree, pattern), causesOf, LARGEST_PRACTICAL_SET).sets) {
      const key = setKey(set);
      const known = found.get(key) ?? { set, ms: 0 };
      known.ms += wrongMs[i]!;
      found.set(key, known);
    }
  });
  const longestFirst = [...found.values()].sort((a, b) => b.ms - a.ms || a.set.length - b.set.length || (setKey(a.set) < setKey(b.set) ? -1 : 1));
  const rates = lyingRates(margin.leaves, site, faults);
  const shareOf = (ms: number): number => (totalMs === 0 ? 0 : ms / totalMs);
  const expected = (sets: readonly (typeof longestFirst)[number][], beta: number): ExpectedFigure => {
    const [unknown, unbounded] = [new Set<string>(), new Set<string>()];
    const total = (high: boolean): number =>
      sets.reduce((sum, { set, ms }) => sum + coincidencesPerYear(set.map((liar) => rates(liar, beta, high, high ? unbounded : unknown)), shareOf(ms)), 0);
    const [value, high] = [total(false), total(true)];
    // A signal that only one other watches has no rate, and still an upper end.
    const bound = unbounded.size === 0 ? high : null;
    return unknown.size === 0 ? { value, high: bound, why: null } : { value: null, high: bound, why: `not known how often these lie: ${[...unknown].sort().join(", ")}` };
  };
  return {
    wrongHours: totalMs / HOUR_MS,
    upToSize: LARGEST_PRACTICAL_SET,
    count: longestFirst.length,
    sets: longestFirst.slice(0, MOST_PRACTICAL_LISTED).map((one) => ({
      ...cutSet(one.set),
      share: shareOf(one.ms),
      hoursPerMonth: (one.ms / (end - start)) * (MONTH_MS / HOUR_MS),
      expectedPerYear: expected([one], BETA),
    })),
    expectedPerYear: {
      independent: expected(longestFirst.filter(({ set }) => set.every(({ kind }) => kind === "signal")), 0),
      withSharedCauses: expected(longestFirst, BETA),
    },
  };
}

/** What is left to be lied about: leaves that hold anyway need nobody. */
function unmetTree(tree: ClaimTree, pattern: Uint8Array): ClaimTree {
  let leaf = 0;
  const unmet = (part: ClaimTree): ClaimTree | "met" => {
    if (part.op === "claim") return pattern[leaf++] === 1 ? "met" : part;
    const operands = part.of.map(unmet);
    const left = operands.filter((one) => one !== "met");
    const count = part.count - (operands.length - left.length);
    return count <= 0 ? "met" : { op: "quorum", count, of: left };
  };
  const rest = unmet(tree);
  return rest === "met" ? { op: "quorum", count: 0, of: [] } : rest;
}

/**
 * How often a liar lies and for what share of the time. A lie is believed for as long as it lasts, and at least for as
 * long as the condition looks back. A cause lies at `beta` times the rate of the signal it takes along that lies most.
 */
function lyingRates(leaves: readonly ClaimLeaf[], site: Site, faults: FaultRates): (liar: Liar, beta: number, high: boolean, unknown: Set<string>) => LyingRate {
  const lookBackMs = new Map<string, number>();
  for (const { claim } of leaves) {
    const back = claim.form === "turned" ? claim.withinMs : claim.form === "sometime" ? claim.spanMs : 0;
    lookBackMs.set(claim.signal, Math.max(back, lookBackMs.get(claim.signal) ?? 0));
  }
  const taken = signalsByCause(site);
  const causesOf = causesBySignal(site);
  const perYear = (rate: FaultRate | undefined, high: boolean): number | null => (rate === undefined ? null : high ? rate.perYearHigh : rate.perYear);
  return (liar, beta, high, unknown) => {
    // Only what the rule listens to can make it fire.
    const signals = liar.kind === "signal" ? [liar.name] : (taken.get(liar.name) ?? []).filter((signal) => lookBackMs.has(signal));
    const own = signals.map((signal) => {
      const rate = perYear(faults.get(signal), high);
      if (rate === null) unknown.add(signal);
      return { perYear: rate ?? 0, ms: Math.max(faults.get(signal)?.meanMs ?? UNTIMED_LIE_MS, lookBackMs.get(signal) ?? 0) };
    });
    const most = own.reduce((worst, one) => (one.perYear > worst.perYear ? one : worst), { perYear: 0, ms: UNTIMED_LIE_MS });
    // A signal that shares nothing keeps all of its lies to itself.
    const rate = liar.kind === "cause" ? betaSplit(most.perYear, beta).common : betaSplit(most.perYear, causesOf(liar.name).length === 0 ? 0 : beta).own;
    return { perYear: rate, timeShare: Math.min(1, (rate * most.ms) / YEAR_MS) };
  };
}
