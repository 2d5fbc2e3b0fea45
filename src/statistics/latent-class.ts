/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index is of an item, an observer or a class, and every array has a place for each of them */
import { sum } from "d3-array";

/** One thing that observers judged. */
export interface LatentClassItem {
  /**
   * `counts[o][c]`: how often observer o called it class c. May be fractions (a vote of less weight); all 0 if o
   * abstains.
   */
  readonly counts: readonly (readonly number[])[];
  /** The population it belongs to, from 0; each has its own prevalences. 0 by default. */
  readonly population?: number;
  /** How many identical items this one stands for; 1 by default. */
  readonly multiplicity?: number;
}

/** `said[observer][true class][said class]`. */
type Shares = readonly (readonly (readonly number[])[])[];

/** When to stop, and the prior of the rates. */
export interface LatentClassOptions {
  readonly classes: number;
  readonly populations?: number;
  readonly maximumIterations: number;
  /** Converged when no item's class probability changes by more than this in one iteration. */
  readonly tolerance: number;
  /** Added to every observer's count of each true class × said class (0 = maximum likelihood). */
  readonly pseudoCounts?: (observer: number, trueClass: number, saidClass: number) => number;
}

/** The estimates. */
export interface LatentClassFit {
  /** `prevalence[population][class]`; each adds up to 1. */
  readonly prevalence: readonly (readonly number[])[];
  /** `said[observer][true class][said class]`; each row adds up to 1. */
  readonly said: Shares;
  /** `membership[item][class]`: the probability that the item truly is of the class. */
  readonly membership: readonly (readonly number[])[];
  /** Of all counts, multiplicities included, without multinomial coefficients. */
  readonly logLikelihood: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/**
 * Estimates without a known truth how often each observer calls class t class c, how common each class is, and which
 * class each item probably has. Expectation-maximisation, assuming that observers err independently given the truth.
 * Starts from the observers' averaged opinion of each item. That makes the run deterministic and looks for the solution
 * in which observers are right more often than wrong; other starts may end in another local maximum. An item that
 * nobody judged starts equally likely to be of every class.
 * Source: Dawid & Skene (1979), Applied Statistics 28: 20-28, start by their equation 3.1. With several populations
 * that share the observers' rates it is the model of Hui & Walter (1980), Biometrics 36: 167-171.
 * @throws RangeError when there are no items.
 */
export function fitLatentClasses(items: readonly LatentClassItem[], options: LatentClassOptions): LatentClassFit {
  const observers = items[0]?.counts.length;
  if (observers === undefined) throw new RangeError("Latent classes need at least one item.");
  const { classes, maximumIterations, tolerance, populations = 1, pseudoCounts = () => 0 } = options;
  let membership = items.map((item) => averagedOpinion(item, classes));
  for (let iteration = 1; ; iteration += 1) {
    const prevalence = prevalencesFrom(items, membership, populations, classes);
    const said = sharesFrom(items, membership, observers, classes, pseudoCounts);
    const next = judgeItems(items, prevalence, said, classes);
    const moved = largestMove(membership, next.membership);
    membership = next.membership;
    const converged = moved <= tolerance;
    if (converged || iteration >= maximumIterations) return { prevalence, said, membership, logLikelihood: next.logLikelihood, iterations: iteration, converged };
  }
}

/**
 * How common each class is in each population, from the class probabilities of the items: Dawid & Skene (1979),
 * equation 2.4. All classes are equally common in a population without items.
 */
function prevalencesFrom(items: readonly LatentClassItem[], membership: readonly (readonly number[])[], populations: number, classes: number): number[][] {
  const totals = Array.from({ length: populations }, () => new Array<number>(classes).fill(0));
  items.forEach((item, i) => membership[i]!.forEach((one, c) => (totals[item.population ?? 0]![c]! += one * (item.multiplicity ?? 1))));
  return totals.map(normalised);
}

/**
 * How often each observer calls class t class c, from the class probabilities of the items: their equation 2.3, with
 * pseudo-counts added.
 */
function sharesFrom(
  items: readonly LatentClassItem[],
  membership: readonly (readonly number[])[],
  observers: number,
  classes: number,
  pseudoCounts: (observer: number, trueClass: number, saidClass: number) => number,
): number[][][] {
  const totals = Array.from({ length: observers }, (_, o) => Array.from({ length: classes }, (_, t) => Array.from({ length: classes }, (_, c) => pseudoCounts(o, t, c))));
  items.forEach((item, i) =>
    item.counts.forEach((counts, o) =>
      counts.forEach((count, c) => {
        for (let t = 0; t < classes; t += 1) totals[o]![t]![c]! += membership[i]![t]! * count * (item.multiplicity ?? 1);
      }),
    ),
  );
  return totals.map((ofObserver) => ofObserver.map(normalised));
}

function normalised(totals: readonly number[]): number[] {
  const all = sum(totals);
  return totals.map((one) => (all === 0 ? 1 / totals.length : one / all));
}

/** Equation 3.1: each class's share of all that observers said of the item. */
function averagedOpinion(item: LatentClassItem, classes: number): number[] {
  return normalised(Array.from({ length: classes }, (_, c) => sum(item.counts, (counts) => counts[c])));
}

/** Bayes' rule for each item (their equation 2.5), in logarithms. */
function judgeItems(items: readonly LatentClassItem[], prevalence: readonly (readonly number[])[], said: Shares, classes: number): { membership: number[][]; logLikelihood: number } {
  let logLikelihood = 0;
  const membership = items.map((item) => {
    const logs = Array.from({ length: classes }, (_, t) => Math.log(prevalence[item.population ?? 0]![t]!) + logChance(item, said, t));
    const largest = Math.max(...logs);
    const parts = logs.map((log) => Math.exp(log - largest));
    const total = sum(parts);
    logLikelihood += (item.multiplicity ?? 1) * (largest + Math.log(total));
    return parts.map((part) => part / total);
  });
  return { membership, logLikelihood };
}

function logChance(item: LatentClassItem, said: Shares, trueClass: number): number {
  let log = 0;
  item.counts.forEach((counts, observer) =>
    counts.forEach((count, c) => {
      // What was never said does not matter, even if its share is 0 and the logarithm −∞.
      if (count > 0) log += count * Math.log(said[observer]![trueClass]![c]!);
    }),
  );
  return log;
}

function largestMove(before: readonly (readonly number[])[], after: readonly (readonly number[])[]): number {
  let largest = 0;
  before.forEach((row, i) => row.forEach((one, c) => (largest = Math.max(largest, Math.abs(one - after[i]![c]!)))));
  return largest;
}
