import { BETA, anyOfShares, betaSplit, jointShare, type FaultRate } from "./fault-rates.js";
import type { FooledContext } from "./context.js";
import { lyingInPractice } from "./lying-in-practice.js";
import { cutSet, lyingSets, silencingSets, type Liar, type LyingSets } from "./lying-sets.js";
import type { CutSetList, CutSets, ExpectedFigure } from "../../result/rules.js";

/** Nobody reads more sets than this; the count of all is given. */
export const MOST_LISTED = 100;

const ASSUMES =
  `Sensors are assumed to report falsely independently of one another, except through a shared cause. A share of ${BETA} of each sensor's false reports (assumed, not measured) ` +
  "is put down to every cause it shares, at the rate of the worst sensor. All false reports are assumed to come when acting would be wrong. " +
  "A sensor is assumed to fail the rule as often as it misses a visit, whatever the rule asks of it. " +
  "Only false reports are counted here. What the rule does wrongly while every sensor tells the truth is among its firings.";

/** The cut sets of a rule, with what its history and the measured fault rates make of them. */
export function cutSetsOf(context: FooledContext): CutSets {
  const failing = silencingSets(context.rule);
  return {
    firing: listed(lyingSets(context.rule)),
    failing: listed(failing),
    inPractice: lyingInPractice(context),
    expectedMissedShare: {
      independent: expectedMissed(failing.sets.filter((set) => set.every(({ kind }) => kind === "signal")), context, 0),
      withSharedCauses: expectedMissed(failing.sets, context, BETA),
    },
    beta: BETA,
    assumes: ASSUMES,
  };
}

function listed({ sets, upToSize }: LyingSets): CutSetList {
  return { upToSize, count: sets.length, sets: sets.slice(0, MOST_LISTED).map(cutSet) };
}

function expectedMissed(sets: readonly (readonly Liar[])[], { rule: { causesOf, signalsOf }, faults }: FooledContext, beta: number): ExpectedFigure {
  const unknown = new Set<string>();
  const shareOf = (liar: Liar, pick: (rate: FaultRate) => number | null): number => {
    const own = (signal: string): number => {
      const rate = faults.get(signal);
      const share = rate === undefined ? null : pick(rate);
      if (share === null) unknown.add(signal);
      return share ?? 0;
    };
    if (liar.kind === "cause") return betaSplit(Math.max(0, ...signalsOf(liar.name).map(own)), beta).common;
    return betaSplit(own(liar.name), causesOf(liar.name).length === 0 ? 0 : beta).own;
  };
  const total = (pick: (rate: FaultRate) => number | null): number => anyOfShares(sets.map((set) => jointShare(set.map((liar) => shareOf(liar, pick)))));
  const [value, high] = [total((rate) => rate.missedShare), total((rate) => rate.missedShareHigh)];
  return unknown.size === 0 ? { value, high, why: null } : { value: null, high: null, why: `how often these miss a change is not known: ${[...unknown].sort().join(", ")}` };
}
