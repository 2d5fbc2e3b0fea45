import { BETA, anyOfShares, betaSplit, jointShare, type ExpectedFigure, type FaultRate } from "./fault-rates.js";
import type { FooledContext } from "./context.js";
import { lyingInPractice, type LyingInPractice } from "./lying-in-practice.js";
import { cutSet, lyingSets, silencingSets, type CutSet, type Liar, type LyingSets } from "./lying-sets.js";

/** Minimal cut sets, smallest first. */
export interface CutSetList {
  /** All sets up to this many members were looked for. */
  readonly upToSize: number;
  /** How many there are; the first {@link MOST_LISTED} stand in `sets`. */
  readonly count: number;
  readonly sets: readonly CutSet[];
}

/** What could make a rule fire wrongly, and what could keep it from firing. */
export interface CutSets {
  /** By lying together they make the rule fire, all others reading against it. */
  readonly firing: CutSetList;
  /** By falling silent together they keep the rule from firing, whatever all others read. */
  readonly failing: CutSetList;
  /** The smallest sets of liars given what the others really read while firing would have been wrong. */
  readonly inPractice: LyingInPractice;
  /**
   * Chance that a wanted instant is missed because a failing set of at most `failing.upToSize` members misses it; each
   * signal by itself, and with the shared causes.
   */
  readonly expectedMissedShare: { readonly independent: ExpectedFigure; readonly withSharedCauses: ExpectedFigure };
  /** The beta factor used: a stated prior. */
  readonly beta: number;
  /** The assumptions, in words. */
  readonly assumes: string;
}

/** Nobody reads more sets than this; the count of all is given. */
export const MOST_LISTED = 100;

const ASSUMES =
  `Signals are taken to lie independently of one another, save for their shared causes: of each signal's lies the share ${BETA} (the beta factor, a prior, not measured) ` +
  "is put down to every cause it shares, at the rate of the signal that lies most. All of a signal's lies are taken to fall into time in which firing would be wrong. " +
  "A signal is taken to fail the rule as often as it misses a visit, whatever the rule asks of it. " +
  "Only lies are expected here: what the rule does wrongly though every signal tells the truth stands among its firings.";

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
  return unknown.size === 0 ? { value, high, why: null } : { value: null, high: null, why: `not known how often these miss a turn: ${[...unknown].sort().join(", ")}` };
}
