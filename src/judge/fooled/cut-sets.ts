import type { RuleSpec, Site } from "../../site/site.js";
import { causesBySignal, cutSet, signalsByCause, type CutSet, type ExpectedFigure } from "./cut-set.js";
import { lyingSets, silencingSets, type Liar, type LyingSets } from "./lying-sets.js";
import { anyOfShares, BETA, betaSplit, jointShare, type FaultRate, type FaultRates } from "./fault-rates.js";
import { lyingInPractice, type LyingInPractice } from "./lying-in-practice.js";
import type { Margin } from "./margin.js";
import type { WrongTime } from "./context.js";

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
  /** Chance that a wanted instant is missed because a failing set of at most `failing.upToSize` members misses it; each signal by itself, and with the shared causes. */
  readonly expectedMissedShare: { readonly independent: ExpectedFigure; readonly withSharedCauses: ExpectedFigure };
  /** The beta factor used: a stated prior. */
  readonly beta: number;
  /** What is taken for granted, in words. */
  readonly assumes: string;
}

/** More sets than this nobody reads; the count of all is told. */
export const MOST_LISTED = 100;

const ASSUMES =
  `Signals are taken to lie independently of one another, save for their shared causes: of each signal's lies the share ${BETA} (the beta factor, a prior, not measured) ` +
  "is put down to every cause it shares, at the rate of the signal that lies most. All of a signal's lies are taken to fall into time in which firing would be wrong. " +
  "A signal is taken to fail the rule as often as it misses a visit, whatever the rule asks of it. " +
  "Only lies are expected here: what the rule does wrongly though every signal tells the truth stands among its firings.";

/** The cut sets of a rule, with what its history and the measured fault rates make of them. */
export function cutSetsOf(rule: RuleSpec, site: Site, margin: Margin, wrong: WrongTime, faults: FaultRates): CutSets {
  const causesOf = causesBySignal(site);
  const failing = silencingSets(rule.when, causesOf);
  return {
    firing: listed(lyingSets(rule.when, causesOf)),
    failing: listed(failing),
    inPractice: lyingInPractice(margin, wrong, site, faults),
    expectedMissedShare: {
      independent: expectedMissed(failing.sets.filter((set) => set.every(({ kind }) => kind === "signal")), site, faults, 0),
      withSharedCauses: expectedMissed(failing.sets, site, faults, BETA),
    },
    beta: BETA,
    assumes: ASSUMES,
  };
}

function listed({ sets, upToSize }: LyingSets): CutSetList {
  return { upToSize, count: sets.length, sets: sets.slice(0, MOST_LISTED).map(cutSet) };
}

function expectedMissed(sets: readonly (readonly Liar[])[], site: Site, faults: FaultRates, beta: number): ExpectedFigure {
  const causeSignals = signalsByCause(site);
  const causesOf = causesBySignal(site);
  const unknown = new Set<string>();
  const shareOf = (liar: Liar, pick: (rate: FaultRate) => number | null): number => {
    const own = (signal: string): number => {
      const rate = faults.get(signal);
      const share = rate === undefined ? null : pick(rate);
      if (share === null) unknown.add(signal);
      return share ?? 0;
    };
    if (liar.kind === "cause") return betaSplit(Math.max(0, ...(causeSignals.get(liar.name) ?? []).map(own)), beta).common;
    return betaSplit(own(liar.name), causesOf(liar.name).length === 0 ? 0 : beta).own;
  };
  const total = (pick: (rate: FaultRate) => number | null): number => anyOfShares(sets.map((set) => jointShare(set.map((liar) => shareOf(liar, pick)))));
  const [value, high] = [total((rate) => rate.missedShare), total((rate) => rate.missedShareHigh)];
  return unknown.size === 0 ? { value, high, why: null } : { value: null, high: null, why: `not known how often these miss a turn: ${[...unknown].sort().join(", ")}` };
}
