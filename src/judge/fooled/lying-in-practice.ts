/* eslint-disable @typescript-eslint/no-non-null-assertion -- patterns are numbered, and every array has a place for each of them */
import { HOUR_MS, MONTH_MS, YEAR_MS } from "../../ground/units.js";
import type { ClaimTree } from "../rule/claims.js";
import type { PreparedRule } from "../rule/prepare.js";
import type { FooledContext } from "./context.js";
import { BETA, betaSplit, coincidencesPerYear, UNTIMED_LIE_MS, type LyingRate } from "./fault-rates.js";
import { eachStretch } from "./joint-history.js";
import { cutSet, setKey, smallestSets, unmet, type Liar } from "./lying-sets.js";
import type { ExpectedFigure, LyingInPractice } from "../../result/rules.js";

/**
 * Three lies at once, on top of those the history holds, are too rare for a month of history to tell. Our own choice.
 */
const LARGEST_PRACTICAL_SET = 2;
/** As many as a person would look at. */
const MOST_PRACTICAL_LISTED = 30;

/**
 * The minimal sets of liars in each situation that the history held while firing would have been wrong, and the share
 * of that time in which each of them was enough. Where the door stands open anyway, nobody need lie about it, so
 * structure alone would flatter the rule. A set's expected rate is how often its members lie at once, times that share.
 * A signal in several places is taken to keep what it truly reads beside what it lies: more sets, never fewer. The lies
 * that the history itself holds are part of what the others "really read".
 */
export function lyingInPractice(context: FooledContext): LyingInPractice {
  const { rule, situations, margin, wrong } = context;
  const { start, end, patterns } = situations;
  const wrongMs = new Float64Array(patterns.length);
  eachStretch(situations, wrong.looked, (from, to, pattern, isWrong) => {
    if (isWrong) wrongMs[pattern]! += to - from;
  });
  const totalMs = wrongMs.reduce((sum, ms) => sum + ms, 0);
  const found = new Map<string, { readonly set: readonly Liar[]; ms: number }>();
  patterns.forEach((pattern, i) => {
    if (wrongMs[i] === 0 || margin.ofPattern[i] === 0) return;
    for (const set of smallestSets(unmetTree(rule, pattern), rule.causesOf, LARGEST_PRACTICAL_SET).sets) {
      const key = setKey(set);
      const known = found.get(key) ?? { set, ms: 0 };
      known.ms += wrongMs[i]!;
      found.set(key, known);
    }
  });
  const longestFirst = [...found.values()].sort((a, b) => b.ms - a.ms || a.set.length - b.set.length || (setKey(a.set) < setKey(b.set) ? -1 : 1));
  const rates = lyingRates(context);
  const shareOf = (ms: number): number => (totalMs === 0 ? 0 : ms / totalMs);
  const expected = (sets: readonly (typeof longestFirst)[number][], beta: number): ExpectedFigure => {
    const [unknown, unbounded] = [new Set<string>(), new Set<string>()];
    const total = (high: boolean): number =>
      sets.reduce((sum, { set, ms }) => sum + coincidencesPerYear(set.map((liar) => rates(liar, beta, high, high ? unbounded : unknown)), shareOf(ms)), 0);
    const [value, high] = [total(false), total(true)];
    // A signal that only one other watches has no rate, but still an upper end.
    const bound = unbounded.size === 0 ? high : null;
    return unknown.size === 0 ? { value, high: bound, why: null } : { value: null, high: bound, why: `how often these report falsely is not known: ${[...unknown].sort().join(", ")}` };
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

/** The claims that do not hold yet: leaves that hold anyway need no liar, and nor does what is asked of a stir signal. */
function unmetTree({ claims, isOneSided }: Pick<PreparedRule, "claims" | "isOneSided">, pattern: Uint8Array): ClaimTree {
  let leaf = 0;
  const rest = unmet(claims, ({ claim }) => pattern[leaf++] === 1 || isOneSided(claim.signal));
  return rest === "met" ? { op: "quorum", count: 0, of: [] } : rest;
}

/**
 * How often a liar lies and for what share of the time. A lie is believed for as long as it lasts, and at least for as
 * long as the condition looks back. A cause lies at `beta` times the rate of the signal that lies most among those it
 * affects.
 */
function lyingRates({ rule: { leaves, causesOf, signalsOf }, faults }: FooledContext): (liar: Liar, beta: number, high: boolean, unknown: Set<string>) => LyingRate {
  const lookBackMs = new Map<string, number>();
  for (const { claim } of leaves) {
    const back = claim.form === "turned" ? claim.withinMs : claim.form === "sometime" ? claim.spanMs : 0;
    lookBackMs.set(claim.signal, Math.max(back, lookBackMs.get(claim.signal) ?? 0));
  }
  return (liar, beta, high, unknown) => {
    // Only what the rule listens to can make it fire.
    const signals = liar.kind === "signal" ? [liar.name] : signalsOf(liar.name).filter((signal) => lookBackMs.has(signal));
    const own = signals.map((signal) => {
      const measured = faults.get(signal);
      const rate = (high ? measured?.perYearHigh : measured?.perYear) ?? null;
      if (rate === null) unknown.add(signal);
      return { perYear: rate ?? 0, ms: Math.max(measured?.meanMs ?? UNTIMED_LIE_MS, lookBackMs.get(signal) ?? 0) };
    });
    const most = own.reduce((worst, one) => (one.perYear > worst.perYear ? one : worst), { perYear: 0, ms: UNTIMED_LIE_MS });
    // A signal that shares nothing keeps all of its lies to itself.
    const rate = liar.kind === "cause" ? betaSplit(most.perYear, beta).common : betaSplit(most.perYear, causesOf(liar.name).length === 0 ? 0 : beta).own;
    return { perYear: rate, timeShare: Math.min(1, (rate * most.ms) / YEAR_MS) };
  };
}
